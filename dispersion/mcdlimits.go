package dispersion

func mcdMeanLimit(n int, level float64) float64 { return squaredLimit(MeanRegion, n, level) }
func mcdNextLimit(n int, level float64) float64 { return squaredLimit(PredictionRegion, n, level) }
