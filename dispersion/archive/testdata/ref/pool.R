# The studentized bootstrap interval of a mean, by boot::boot.ci(type = "stud"):
# the middle of 40 runs of 9,999 resamples, and how far one run strays from it.
# Run: Rscript pool.R > pool.csv
library(boot)
x <- c(3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 8)
studentized <- function(d, i) c(mean(d[i]), var(d[i]) / length(i))
runs <- t(sapply(1:40, function(seed) {
  set.seed(seed)
  boot.ci(boot(x, studentized, R = 9999), conf = 0.95, type = "stud")$student[4:5]
}))
cat("end,middle,sd\n")
cat(sprintf("low,%.6f,%.6f\n", mean(runs[, 1]), sd(runs[, 1])))
cat(sprintf("high,%.6f,%.6f\n", mean(runs[, 2]), sd(runs[, 2])))
