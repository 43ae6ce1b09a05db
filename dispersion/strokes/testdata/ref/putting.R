# Putting models fitted to the two open tables by R alone (dnorm, pnorm, dbinom,
# optimize, optim, glm), for putt_test.go. Run it in this folder:
#   Rscript putting.R > putting.csv
R <- 2.125 / 12; r <- 0.84 / 12 # feet
berry <- read.csv("../../../../datasets/putts-1996/putts.csv")
broadie <- read.csv("../../../../datasets/putts-2018/putts.csv")
angle <- function(x, s) 2 * pnorm(asin((R - r) / x) / s) - 1
both <- function(x, s, d) angle(x, s) * (pnorm(2 / ((x + 1) * d)) - pnorm(-1 / ((x + 1) * d)))
out <- function(name, value) cat(name, ",", format(value, digits = 12), "\n", sep = "")
cat("name,value\n")

loss <- function(s) -sum(dbinom(berry$holed, berry$tried, angle(berry$distance_ft, s), log = TRUE))
s <- optimize(loss, c(0.01, 0.1), tol = 1e-12)$minimum
h <- 1e-5
saturated <- -sum(dbinom(berry$holed, berry$tried, berry$holed / berry$tried, log = TRUE))
out("angle", s)
out("angle_se", 1 / sqrt((loss(s + h) - 2 * loss(s) + loss(s - h)) / h^2))
out("angle_log_likelihood", -loss(s))
out("angle_deviance", 2 * (loss(s) - saturated))
for (x in c(2, 5, 10, 20)) out(paste0("angle_", x, "ft"), angle(x, 0.0267))

f <- glm(cbind(holed, tried - holed) ~ distance_ft, binomial, berry, control = glm.control(epsilon = 1e-15))
out("logistic_intercept", coef(f)[[1]])
out("logistic_intercept_se", summary(f)$coefficients[1, 2])
out("logistic_slope_ft", coef(f)[[2]])
out("logistic_slope_ft_se", summary(f)$coefficients[2, 2])
out("logistic_deviance", deviance(f))

loss <- function(l) {
  p <- both(broadie$distance_ft, exp(l[1]), exp(l[2]))
  -sum(dnorm(broadie$holed / broadie$tried, p, sqrt(p * (1 - p) / broadie$tried + exp(2 * l[3])), log = TRUE))
}
best <- optim(log(c(0.02, 0.1, 0.01)), loss, control = list(reltol = 1e-15, maxit = 10000))
best <- optim(best$par, loss, control = list(reltol = 1e-16, maxit = 10000))
out("both_angle", exp(best$par[1]))
out("both_distance", exp(best$par[2]))
out("both_extra", exp(best$par[3]))
for (x in c(1, 2, 3, 5, 8, 10, 20, 30, 50)) out(paste0("both_", x, "ft"), both(x, 0.018, 0.08))
