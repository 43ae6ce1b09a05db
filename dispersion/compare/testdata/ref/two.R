# Remakes ../two.csv: two groups compared in the plane and along one axis.
#   Rscript two.R         (R 4.2.2, energy 1.7-11)
# Nothing here is computed by Landfall. Groups are those of dispersion/testdata/ref
# and the mouse data of compare.R; x is side, y carry; after minus before.
suppressMessages({library(energy); library(jsonlite)})
B <- fromJSON("../../../testdata/ref/datasets.json")$bivariate
B$mouse_treatment <- cbind(0, c(94, 197, 16, 38, 99, 141, 23)); B$mouse_control <- cbind(0, c(52, 104, 146, 10, 50, 31, 40, 27, 46))
out <- character()
put <- function(case, ...) { v <- list(...); for (q in names(v)) out <<- c(out, paste(case, q, sprintf("%.17g", v[[q]]), sep = ",")) }

# Krishnamoorthy & Yu 2004, from the formulae, with solve() and pf().
shift <- function(n1, m1, S1, n2, m2, S2, level = .95) {
  d <- m2 - m1; V1 <- S1 / n1; V2 <- S2 / n2; Vi <- solve(V1 + V2); tr <- function(A) sum(diag(A))
  one <- function(V, n) { W <- V %*% Vi; (tr(W %*% W) + tr(W)^2) / (n - 1) }
  T2 <- drop(t(d) %*% Vi %*% d); v <- 6 / (one(V1, n1) + one(V2, n2))
  limit <- 2 * v / (v - 1) * qf(level, 2, v - 1)
  axes <- sqrt(eigen(V1 + V2)$values * limit)
  list(T2 = T2, df = v, shift_p = pf(T2 * (v - 1) / (2 * v), 2, v - 1, lower.tail = FALSE), limit = limit, major = axes[1], minor = axes[2])
}
trimmed <- function(x1, x2) {
  part <- function(x) { s <- sort(x); n <- length(x); g <- floor(.2 * n); h <- n - 2 * g
    w <- s; w[seq_len(g)] <- s[g + 1]; w[n + 1 - seq_len(g)] <- s[n - g]
    list(m = mean(x, trim = .2), d = (n - 1) * var(w) / (h * (h - 1)), h = h) }
  a <- part(x1); b <- part(x2); se <- sqrt(a$d + b$d); v <- (a$d + b$d)^2 / (a$d^2 / (a$h - 1) + b$d^2 / (b$h - 1))
  e <- b$m - a$m
  list(trim_estimate = e, trim_low = e - qt(.975, v) * se, trim_high = e + qt(.975, v) * se, trim_df = v, trim_p = 2 * pt(-abs(e / se), v))
}
ranks <- function(x1, x2) {
  z <- c(x1, x2); n1 <- length(x1); r <- rank(z); o <- list(hl_estimate = median(outer(x2, x1, "-")))
  if (choose(length(z), n1) <= 2e5) {
    w <- combn(length(z), n1, function(i) sum(r[i])); o$hl_p <- mean(abs(w - mean(w)) >= abs(w[1] - mean(w)) - 1e-9)
  }
  if (!any(duplicated(z)) ) {
    w <- wilcox.test(x2, x1, exact = TRUE, conf.int = TRUE)
    o$hl_low <- w$conf.int[1]; o$hl_high <- w$conf.int[2]; o$hl_p <- w$p.value
  }
  o
}
for (k in list(c("a3", "b6"), c("b6", "c12"), c("b6", "ties8"), c("p20", "q20"), c("p20", "d40"), c("setosa", "versicolor"), c("versicolor", "virginica"), c("mouse_treatment", "mouse_control"))) {
  X <- B[[k[1]]]; Y <- B[[k[2]]]; n1 <- nrow(X); n2 <- nrow(Y); case <- paste(k, collapse = " "); Z <- rbind(X, Y); d <- as.matrix(dist(Z)); N <- n1 + n2
  if (var(X[, 1]) > 0) do.call(put, c(case, shift(n1, colMeans(X), cov(X), n2, colMeans(Y), cov(Y))))
  put(case, energy = eqdist.e(Z, c(n1, n2)))
  if (choose(N, n1) <= 2e4) {
    e <- combn(N, n1, function(i) { j <- setdiff(1:N, i); length(i) * length(j) / N * (2 * mean(d[i, j]) - mean(d[i, i]) - mean(d[j, j])) })
    put(case, energy_at_least = sum(e >= e[1] - 1e-9 * e[1]))
  }
  do.call(put, c(case, ranks(X[, 2], Y[, 2])))
  if (min(n1, n2) >= 10) do.call(put, c(case, trimmed(X[, 2], Y[, 2])))
}
# Summaries alone. soap: R. A. Johnson, D. W. Wichern, Applied Multivariate
# Statistical Analysis, examples 6.3 (soap) and 6.4 (electricity), 6th ed. 2007.
# yao: data of G. S. James 1954 as used by Y. Yao, Biometrika 52, 1965 (from memory).
S <- function(a, b, c) matrix(c(a, b, b, c), 2)
do.call(put, c("soap", shift(50, c(8.3, 4.1), S(2, 1, 5), 50, c(10.2, 3.9), S(2, 1, 5))))
do.call(put, c("electricity", shift(45, c(204.4, 556.6), S(13825.3, 23823.4, 73107.4), 55, c(130, 355), S(8632, 19616.7, 55964.5))))
do.call(put, c("yao", shift(16, c(9.82, 15.06), S(120, -16.3, 17.8), 11, c(13.05, 22.57), S(81.8, 32.1, 53.8))))
writeLines(c("# R 4.2.2, energy 1.7-11; made by ref/two.R", "case,quantity,value", out), "../two.csv")
