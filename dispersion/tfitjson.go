package dispersion

import (
	"encoding/json"
	"math"
)

// MarshalJSON writes the fields in lower case, and null for the degrees of freedom
// where the normal law fits best, since JSON has no infinity.
func (t TFit) MarshalJSON() ([]byte, error) {
	type jsonCov struct {
		XX float64 `json:"side_side"`
		XY float64 `json:"side_carry"`
		YY float64 `json:"carry_carry"`
	}
	return json.Marshal(struct {
		Centre  Centre    `json:"centre"`
		Scale   jsonCov   `json:"scale"`
		DF      *float64  `json:"df"`
		LogLik  float64   `json:"log_likelihood"`
		N       int       `json:"n"`
		Weights []float64 `json:"weights"`
	}{t.Centre, jsonCov(t.Scale), finite(t.DF), t.LogLik, t.N, t.Weights})
}

// MarshalJSON writes the fields in lower case and whether tails are heavy, and null
// for the degrees of freedom of a t that is the normal law.
func (c TailComparison) MarshalJSON() ([]byte, error) {
	return json.Marshal(struct {
		AICcNormal float64  `json:"aicc_normal"`
		AICcT      float64  `json:"aicc_t"`
		Heavy      bool     `json:"heavy"`
		DF         *float64 `json:"df"`
		N          int      `json:"n"`
	}{c.AICcNormal, c.AICcT, c.Heavy(), finite(c.DF), c.N})
}

// finite returns nil for an infinity.
func finite(v float64) *float64 {
	if math.IsInf(v, 0) {
		return nil
	}
	return &v
}
