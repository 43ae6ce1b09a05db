# Remakes ../samples.csv and ../golden.csv, with base R alone (R 4.2.2):
#   Rscript compare.R
# samples.csv: open data sets as groups of points (side, carry). golden.csv: what
# R makes of them. Nothing here is computed by Landfall.
options(digits = 17)
num <- function(x) sprintf("%.17g", x)
samples <- list(); golden <- character()
put <- function(case, ...) { v <- list(...); for (q in names(v)) golden <<- c(golden, paste(case, q, num(v[[q]]), sep = ",")) }

# Efron & Tibshirani, An Introduction to the Bootstrap, 1993, table 2.1 (mouse
# data, survival in days; control data as in R's bootstrap package).
mouse.t <- c(94, 197, 16, 38, 99, 141, 23)
mouse.c <- c(52, 104, 146, 10, 50, 31, 40, 27, 46)
points <- function(name, side, carry) samples[[name]] <<- cbind(side = side, carry = carry)
points("mouse_control", 0 * mouse.c, mouse.c); points("mouse_treatment", 0 * mouse.t, mouse.t)
with(sleep, { points("sleep1", 0, extra[group == 1]); points("sleep2", 0, extra[group == 2]) })
sepal <- function(rows) as.matrix(iris[rows, c("Sepal.Width", "Sepal.Length")])
for (s in list(list("setosa", 1:50), list("versicolor", 51:100), list("setosa5", 1:5), list("versicolor12", 51:62), list("setosa3", 1:3), list("versicolor4", 51:54)))
  points(s[[1]], sepal(s[[2]])[, 1], sepal(s[[2]])[, 2])
points("auto", mtcars$wt[mtcars$am == 0], mtcars$mpg[mtcars$am == 0])
points("manual", mtcars$wt[mtcars$am == 1], mtcars$mpg[mtcars$am == 1])

welch <- function(x1, x2, level) {
  w <- t.test(x2, x1, conf.level = level)
  list(estimate = mean(x2) - mean(x1), low = w$conf.int[1], high = w$conf.int[2], df = unname(w$parameter))
}
studentised <- function(x1, x2) abs(mean(x2) - mean(x1)) / sqrt(var(x1) / length(x1) + var(x2) / length(x2))
exactp <- function(x1, x2) {
  x <- c(x1, x2); n1 <- length(x1); seen <- studentised(x1, x2)
  t <- combn(length(x), n1, function(i) studentised(x[i], x[-i]))
  list(permutation_p = mean(t >= seen - 1e-9), permutation_at_least = sum(t >= seen - 1e-9))
}
area <- function(a, b, level) {
  n1 <- nrow(a); n2 <- nrow(b); v1 <- 2 * n1 - 4; v2 <- 2 * n2 - 4; q <- (1 - level) / 2
  r <- sqrt(det(var(b))) / sqrt(det(var(a))); R <- r * ((n2 - 1) * v1) / ((n1 - 1) * v2)
  list(area_estimate = R / qf(.5, v2, v1), area_low = R / qf(1 - q, v2, v1), area_high = R / qf(q, v2, v1),
       area_p = 2 * min(pf(R, v2, v1), pf(R, v2, v1, lower.tail = FALSE)), area_r = r)
}
# Geometric median: a general-purpose minimiser, then Newton's steps. Where a
# data point is the median (gradient test) that point.
median2 <- function(y) {
  for (k in seq_len(nrow(y))) {
    u <- sweep(y, 2, y[k, ]); s <- sqrt(rowSums(u^2)); apart <- s > 0
    pull <- colSums(u[apart, , drop = FALSE] / s[apart])
    if (sqrt(sum(pull^2)) <= sum(!apart)) return(y[k, ])
  }
  f <- function(m) sum(sqrt((y[, 1] - m[1])^2 + (y[, 2] - m[2])^2))
  m <- optim(colMeans(y), f, control = list(reltol = 1e-14, maxit = 5000))$par
  for (i in 1:50) {
    u <- sweep(y, 2, m); s <- sqrt(rowSums(u^2))
    H <- diag(sum(1 / s), 2) - t(u / s^3) %*% u
    m <- m + solve(H, colSums(u / s))
  }
  m
}
logratio <- function(d1, d2, level, name) {
  n1 <- length(d1); n2 <- length(d2); df <- (1 / n1 + 1 / n2)^2 / (1 / (n1^2 * (n1 - 1)) + 1 / (n2^2 * (n2 - 1)))
  D1 <- mean(d1) * sqrt(n1 / (n1 - 1)); D2 <- mean(d2) * sqrt(n2 / (n2 - 1))
  c2 <- ((n1 - 1) * var(d1) / mean(d1)^2 + (n2 - 1) * var(d2) / mean(d2)^2) / (n1 + n2 - 2)
  se <- sqrt(c2) * sqrt(1 / n1 + 1 / n2); l <- log(D2 / D1); h <- qt((1 + level) / 2, df) * se
  r <- list(before = D1, after = D2, estimate = exp(l), low = exp(l - h), high = exp(l + h), p = 2 * pt(-abs(l / se), df))
  names(r) <- paste(name, names(r), sep = "_"); r
}
spread <- function(a, b, level) {
  V <- ((nrow(a) - 1) * var(a) / sqrt(det(var(a))) + (nrow(b) - 1) * var(b) / sqrt(det(var(b)))) / (nrow(a) + nrow(b) - 2)
  L <- chol(V) # V = t(L) L
  d <- function(x) { y <- x %*% solve(L); u <- sweep(y, 2, median2(y)); sqrt(rowSums(u^2)) }
  logratio(d(a), d(b), level, "spread")
}
angle <- function(a, b, level) {
  d <- function(x) { g <- atan2(x[, 1], x[, 2]); abs(g - median(g)) }
  logratio(d(a), d(b), level, "angle")
}
for (pair in list(c("mouse_control", "mouse_treatment"), c("sleep1", "sleep2"), c("setosa5", "versicolor12"), c("setosa3", "versicolor4"), c("setosa", "versicolor"), c("auto", "manual"))) for (level in c(.95, .8)) {
  a <- samples[[pair[1]]]; b <- samples[[pair[2]]]; case <- paste(pair[1], pair[2], level, sep = " ")
  do.call(put, c(case, welch(a[, 2], b[, 2], level)))
  if (choose(nrow(a) + nrow(b), nrow(a)) <= 2e5 && level == .95) do.call(put, c(case, exactp(a[, 2], b[, 2])))
  if (var(a[, 1]) > 0) do.call(put, c(case, area(a, b, level), spread(a, b, level), angle(a, b, level)))
}
# The mean difference of the mouse data, all splits, one-sided and two-sided.
x <- c(mouse.t, mouse.c); diffs <- combn(16, 7, function(i) mean(x[i]) - mean(x[-i])); seen <- mean(mouse.t) - mean(mouse.c)
put("mouse mean difference", one_sided = sum(diffs >= seen - 1e-9), two_sided = sum(abs(diffs) >= seen - 1e-9))

# Rates: Wilson by prop.test without continuity correction, Newcombe's method 10
# put together from those, Fisher's exact test.
wilson <- function(k, n, level) suppressWarnings(prop.test(k, n, conf.level = level, correct = FALSE))$conf.int
for (w in list(c(0, 10), c(1, 10), c(3, 8), c(10, 10), c(56, 70), c(48, 80), c(81, 263), c(1, 29), c(1, 1))) for (level in c(.95, .8)) {
  i <- wilson(w[1], w[2], level); put(paste("wilson", w[1], w[2], level), low = i[1], high = i[2])
}
for (w in list(c(48, 80, 56, 70), c(56, 70, 48, 80), c(9, 10, 3, 10), c(3, 10, 0, 10), c(0, 10, 0, 20), c(2, 8, 1, 12), c(5, 56, 0, 29), c(10, 10, 0, 10), c(1, 4, 2, 3))) {
  p1 <- w[1] / w[2]; p2 <- w[3] / w[4]; i <- wilson(w[1], w[2], .95); j <- wilson(w[3], w[4], .95)
  put(paste("rates", paste(w, collapse = " ")), low = p2 - p1 - sqrt((p2 - j[1])^2 + (i[2] - p1)^2), high = p2 - p1 + sqrt((j[2] - p2)^2 + (p1 - i[1])^2),
      fisher = fisher.test(matrix(c(w[1], w[2] - w[1], w[3], w[4] - w[3]), 2))$p.value)
}

# Planning. power.t.test with strict = TRUE counts both tails.
for (d in c(.2, .5, .8)) put(paste("balls mean", d), n = power.t.test(delta = d, power = .8, strict = TRUE, tol = 1e-12)$n)
for (w in list(c(20, .5), c(10, 1), c(20, 1), c(64, .5), c(3, 1.5), c(5, .2))) put(paste("power mean", w[1], w[2]), power = power.t.test(n = w[1], delta = w[2], strict = TRUE)$power)
fpower <- function(df, ratio) { u <- qf(.975, df, df); pf(u / ratio, df, df, lower.tail = FALSE) + pf(1 / u / ratio, df, df) }
for (n in c(10, 20, 30, 50)) put(paste("power F", n), one_axis = fpower(n - 1, 2.25), circular = fpower(2 * n - 2, 2.25))
for (r in c(.55, .64, .5, 2)) { n <- 3; while (fpower(2 * n - 4, r) < .8) n <- n + 1; put(paste("balls area", r), n = n) }
for (s in c(4, 6, 8, 10)) { n <- 2; while (power.t.test(n = n, delta = 5, sd = s, strict = TRUE)$power < .8) n <- n + 1; put(paste("balls carry", s), n = n) }

out <- c("name,side,carry"); for (n in names(samples)) out <- c(out, paste(n, num(samples[[n]][, 1]), num(samples[[n]][, 2]), sep = ","))
writeLines(out, "../samples.csv"); writeLines(c("case,quantity,value", golden), "../golden.csv")
