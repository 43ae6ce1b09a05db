# Remakes boot_*.json: resamples drawn by R, their statistics and intervals.
#   Rscript boot.R        (R 4.2.2, boot 1.3-28.1, jsonlite 1.8.4)
# Nothing here is computed by Landfall. The resamples are boot()'s own; from
# them the intervals follow rules that no one package follows throughout:
# acceleration from the jackknife centred at the mean of the leave-one-out values
# and weighted by 1/n of the stage (as SciPy does), ties half, quantiles of type 7.
suppressMessages({library(boot); library(jsonlite)})
options(digits = 17)
RNGkind("Mersenne-Twister", "Inversion", "Rejection")
sets <- fromJSON("../../../testdata/ref/datasets.json")$bivariate

logarea <- function(m) .5 * log(var(m[, 1]) * var(m[, 2]) - cov(m[, 1], m[, 2])^2)
ratio <- function(z, s) logarea(z[s == 2, , drop = FALSE]) - logarea(z[s == 1, , drop = FALSE])
average <- function(z, s) mean(z[, 2])
pearson <- function(z, s) cor(z[, 1], z[, 2])

# The statistic of everything but one shot, and the jackknife variance.
leaveout <- function(stat, z, s) sapply(seq_len(nrow(z)), function(k) stat(z[-k, , drop = FALSE], s[-k]))
jackvar <- function(jack, s) sum(tapply(jack, s, function(v) (length(v) - 1) / length(v) * sum((v - mean(v))^2)))

make <- function(id, z, s, stat, R, seed, t_interval) {
  set.seed(seed)
  b <- boot(z, function(d, i) stat(d[i, , drop = FALSE], s[i]), R = R, strata = factor(s))
  idx <- boot.array(b, indices = TRUE); t <- b$t[, 1]; t0 <- b$t0
  jack <- leaveout(stat, z, s); n <- as.vector(table(s)[as.character(s)])
  u <- (n - 1) * (ave(jack, s) - jack)
  a <- sum(u^3 / n^3) / (6 * sum(u^2 / n^2)^1.5)
  z0 <- qnorm((sum(t < t0) + sum(t == t0) / 2) / R)
  out <- list(t0 = t0, t = t, bias = mean(t) - t0, se = sd(t), jackknife_se = sqrt(jackvar(jack, s)), acceleration = a, z0 = z0)
  tv <- if (t_interval) apply(idx, 1, function(i) jackvar(leaveout(stat, z[i, , drop = FALSE], s), s)) else NULL
  out$t_variance <- tv
  for (level in c(.90, .95)) {
    za <- qnorm(c(1 - level, 1 + level) / 2)
    e <- pnorm(-sqrt(min(n) / (min(n) - 1)) * qt((1 + level) / 2, min(n) - 1))
    l <- list(percentile = unname(quantile(t, c(e, 1 - e))), bca = unname(quantile(t, pnorm(z0 + (z0 + za) / (1 - a * (z0 + za))))))
    if (t_interval) l$t <- t0 - sqrt(jackvar(jack, s)) * unname(quantile((t - t0) / sqrt(tv), c(1 + level, 1 - level) / 2))
    out[[paste0("level", level * 100)]] <- l
  }
  x <- list(made_with = "R 4.2.2, boot 1.3-28.1", data = unname(z), stage = s, resamples = unname(idx), output = out)
  writeLines(toJSON(x, digits = NA, auto_unbox = TRUE, always_decimal = FALSE), paste0("boot_", id, ".json"))
}
# Mouse data: Efron & Tibshirani, An Introduction to the Bootstrap, 1993, table
# 2.1; law school data: table 3.1.
mouse <- c(94, 197, 16, 38, 99, 141, 23)
law <- cbind(c(576, 635, 558, 578, 666, 580, 555, 661, 651, 605, 653, 575, 545, 572, 594),
             c(3.39, 3.30, 2.81, 3.03, 3.44, 3.07, 3.00, 3.43, 3.36, 3.13, 3.12, 2.74, 2.76, 2.88, 2.96))
make("mean_mouse", cbind(0, mouse), rep(1L, 7), average, 999, 101, TRUE)
make("mean_p20", sets$p20[, 2:1], rep(1L, 20), average, 999, 102, TRUE)
make("cor_law", law, rep(1L, 15), pearson, 999, 103, TRUE)
make("logarea_p20_q20", rbind(sets$p20, sets$q20), rep(1:2, c(20L, 20L)), ratio, 999, 104, TRUE)
make("logarea_p20_d40", rbind(sets$p20, sets$d40), rep(1:2, c(20L, 40L)), ratio, 499, 105, TRUE)
