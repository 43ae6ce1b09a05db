# Remakes ../evidence.csv with base R alone (R 4.2.2):
#   Rscript evidence.R
# Open data sets that come with R, and what R makes of them. Nothing here is
# computed by Landfall.
options(digits = 17)
out <- c("case,quantity,value")
put <- function(case, ...) { v <- list(...); for (q in names(v)) for (i in seq_along(v[[q]]))
  out <<- c(out, paste(case, if (length(v[[q]]) > 1) paste0(q, i) else q, sprintf("%.17g", v[[q]][i]), sep = ",")) }

# The data: cases "data NAME".
put("data ctrl", x = PlantGrowth$weight[PlantGrowth$group == "ctrl"])
put("data trt1", x = PlantGrowth$weight[PlantGrowth$group == "trt1"])
put("data trt2", x = PlantGrowth$weight[PlantGrowth$group == "trt2"])
put("data lh", x = as.numeric(lh)); put("data LakeHuron", x = as.numeric(LakeHuron))

# Expected normal order statistics, by adaptive quadrature.
order_stat <- function(r, n) integrate(function(x) x * exp(lchoose(n, r) + log(r) + dnorm(x, log = TRUE) + (r - 1) * pnorm(x, log.p = TRUE) +
  (n - r) * pnorm(x, lower.tail = FALSE, log.p = TRUE)), -Inf, Inf, rel.tol = 1e-12, subdivisions = 2000)$value
for (w in list(c(1, 2), c(1, 10), c(3, 10), c(5, 20), c(2, 5), c(10, 20), c(1, 100), c(50, 100)))
  put(paste("best", w[1], w[2]), mean = mean(sapply((w[2] - w[1] + 1):w[2], order_stat, n = w[2])))
# The best running mean from shot 1 to shot 3: E max(0, D1 + max(0, D2)), with
# variances 1/2-1/3 and 1-1/2, given D2 by the normal loss function.
s <- sqrt(1 / 6)
put("run 1 3", mean = s * dnorm(0) * 0.5 + integrate(function(d) dnorm(d, 0, sqrt(.5)) * (s * dnorm(d / s) + d * pnorm(d / s)), 0, Inf, rel.tol = 1e-12)$value)
set.seed(1)
for (w in list(c(5, 15), c(3, 30))) {
  m <- replicate(4e5, max((cumsum(rnorm(w[2])) / seq_len(w[2]))[w[1]:w[2]]))
  put(paste("simulated run", w[1], w[2]), mean = mean(m), se = sd(m) / sqrt(length(m)))
}

# Holm.
bh <- c(.0001, .0004, .0019, .0095, .0201, .0278, .0298, .0344, .0459, .3240, .4262, .5719, .6528, .7590, 1)
put("holm", p = bh, adjusted = p.adjust(bh, "holm"), benjamini = p.adjust(bh, "BH"))

# The trend over ordered stages: its z is that of Kendall's S between value and
# stage, ties in both. Knowledge of performance: Hollander and Wolfe 1999.
kp <- list(c(40, 35, 38, 43, 44, 41), c(38, 40, 47, 44, 40, 42), c(48, 40, 45, 43, 46, 44))
for (w in list(list("trend knowledge", kp), list("trend plants", split(PlantGrowth$weight, PlantGrowth$group)))) {
  x <- unlist(w[[2]]); g <- rep(seq_along(w[[2]]), lengths(w[[2]]))
  k <- cor.test(x, g, method = "kendall", exact = FALSE)
  pairs <- outer(x, x, "-"); later <- outer(g, g, ">")
  put(w[[1]], x = x, g = g, j = sum(later & pairs > 0) + sum(later & pairs == 0) / 2, z = unname(k$statistic), p = k$p.value)
}

# Paired: the sleep data, t.test and all changes of sign.
a <- sleep$extra[sleep$group == 1]; b <- sleep$extra[sleep$group == 2]
w <- t.test(b, a, paired = TRUE); d <- b - a
flips <- as.matrix(expand.grid(rep(list(c(1, -1)), 10)))
put("paired sleep", old = a, fresh = b, estimate = unname(w$estimate), low = w$conf.int[1], high = w$conf.int[2], p = mean(abs(flips %*% d) >= abs(sum(d)) - 1e-9))

# The bookend: Welch and Satterthwaite for the contrast -1/2, 1, -1/2.
contrast <- function(x, weights, level) {
  v <- mapply(function(y, w) w^2 * var(y) / length(y), x, weights); n <- sapply(x, length)
  est <- sum(weights * sapply(x, mean)); df <- sum(v)^2 / sum(v^2 / (n - 1)); h <- qt((1 + level) / 2, df) * sqrt(sum(v))
  list(estimate = est, low = est - h, high = est + h, df = df, p = 2 * pt(-abs(est) / sqrt(sum(v)), df))
}
pg <- split(PlantGrowth$weight, PlantGrowth$group)
do.call(put, c("bookend", contrast(list(pg$ctrl, pg$trt1[1:7], pg$trt2[1:5]), c(-.5, 1, -.5), .95)))

# Serial correlation, and what it does to the mean of n: from the full
# correlation matrix.
for (n in c("lh", "LakeHuron")) { x <- as.numeric(get(n)); put(paste("serial", n), r1 = acf(x, plot = FALSE)$acf[2], ratio = sum(diff(x)^2) / sum((x - mean(x))^2)) }
for (n in c(2, 5, 10, 20)) for (r in c(.1, .2, .3)) {
  R <- r^abs(outer(1:n, 1:n, "-")); var_mean <- sum(R) / n^2; s2 <- (n - sum(R) / n) / (n - 1)
  put(paste("times", n, r), times = sqrt(var_mean * n / s2))
}

# Drift against stages: lm and anova.
drift <- function(name, y, g) {
  at <- seq_along(y); line <- lm(y ~ at); stages <- lm(y ~ g); both <- lm(y ~ g + at); ci <- confint(both)["at", ]
  put(paste("drift", name), line = summary(line)$adj.r.squared, stages = summary(stages)$adj.r.squared, slope = unname(coef(both)["at"]),
      low = unname(ci[1]), high = unname(ci[2]), beyond_line = anova(line, both)[2, "Pr(>F)"], beyond_stages = anova(stages, both)[2, "Pr(>F)"])
}
drift("plants", PlantGrowth$weight, PlantGrowth$group)
drift("uneven", c(pg$ctrl, pg$trt1[1:7], pg$trt2[1:5]), factor(rep(1:3, c(10, 7, 5))))

# |angle| on carry within stages, HC3.
g <- factor(rep(1:2, c(12, 12))); side <- iris$Sepal.Width[c(1:12, 51:62)]; carry <- iris$Sepal.Length[c(1:12, 51:62)]
angle <- atan2(side, carry); off <- abs(angle - ave(angle, g, FUN = median))
m <- lm(off ~ g + carry); X <- model.matrix(m); bread <- solve(t(X) %*% X)
V <- bread %*% t(X) %*% diag((resid(m) / (1 - hatvalues(m)))^2) %*% X %*% bread; se <- sqrt(V["carry", "carry"]); h <- qt(.975, 21) * se
put("wildness", side = side, carry = carry, slope = unname(coef(m)["carry"]), low = unname(coef(m)["carry"]) - h, high = unname(coef(m)["carry"]) + h)

# Evidence at any time: the likelihood ratio of t, integrated over the gain.
for (w in list(c(2.5, 10, 10), c(1, 10, 3), c(4, 5, 30))) {
  df <- w[2] + w[3] - 2; m <- w[2] * w[3] / (w[2] + w[3])
  e <- integrate(function(d) dnorm(d) * dt(w[1], df, d * sqrt(m)), -8, 8, rel.tol = 1e-9, subdivisions = 1000)$value / dt(w[1], df)
  put(paste("evidence", w[1], w[2], w[3]), e = e)
}

# Planning.
for (n in c(5, 10, 30)) put(paste("shown carry", n), delta = power.t.test(n = n, power = .8, sd = 6, strict = TRUE, tol = 1e-12)$delta)
put("plan plants", sd = summary(lm(weight ~ group, PlantGrowth))$sigma, low = summary(lm(weight ~ group, PlantGrowth))$sigma * sqrt(27 / qchisq(.975, 27)),
    high = summary(lm(weight ~ group, PlantGrowth))$sigma * sqrt(27 / qchisq(.025, 27)))
wil <- function(k, n) { z <- qnorm(.975); c((k + z^2 / 2 - z * sqrt(k * (n - k) / n + z^2 / 4)) / (n + z^2), (k + z^2 / 2 + z * sqrt(k * (n - k) / n + z^2 / 4)) / (n + z^2)) }
rate_power <- function(n, p1, p2) {
  ci <- sapply(0:n, wil, n = n); s <- 0
  for (k1 in 0:n) for (k2 in 0:n) { a <- k1 / n; b <- k2 / n
    lo <- (b - a) - sqrt((b - ci[1, k2 + 1])^2 + (ci[2, k1 + 1] - a)^2); hi <- (b - a) + sqrt((ci[2, k2 + 1] - b)^2 + (a - ci[1, k1 + 1])^2)
    if (lo > 0 || hi < 0) s <- s + dbinom(k1, n, p1) * dbinom(k2, n, p2) }
  s
}
for (w in list(c(20, .4, .1), c(50, .3, .1), c(10, .5, .9))) put(paste("power rates", w[1], w[2], w[3]), power = rate_power(w[1], w[2], w[3]))
put("power.prop.test", n_20_10 = power.prop.test(p1 = .2, p2 = .1, power = .8)$n, n_40_10 = power.prop.test(p1 = .4, p2 = .1, power = .8)$n)

# Device error: determinants.
S1 <- var(iris[1:20, c("Sepal.Width", "Sepal.Length")]); S2 <- var(iris[51:70, c("Sepal.Width", "Sepal.Length")]); E <- diag(c(.05, .1)^2)
put("behind", times = sqrt(det(S2 - E) / det(S2)) / sqrt(det(S1 - E) / det(S1)))

writeLines(out, "../evidence.csv")
