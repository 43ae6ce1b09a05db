# Remakes ../golden.csv with base R alone (R 4.2.2):
#   Rscript practice.R
# Open data sets that come with R, and what R makes of them. Nothing here is
# computed by Landfall.
options(digits = 17)
out <- c("case,quantity,value")
put <- function(case, ...) { v <- list(...); for (q in names(v)) for (i in seq_along(v[[q]]))
  out <<- c(out, paste(case, if (length(v[[q]]) > 1) paste0(q, i) else q, sprintf("%.17g", v[[q]][i]), sep = ",")) }

series <- list(Nile = as.numeric(Nile), lh = as.numeric(lh), LakeHuron = as.numeric(LakeHuron),
  weights = PlantGrowth$weight, speed = cars$dist[1:24])
for (name in names(series)) put(paste("data", name), x = series[[name]])

# Order: ranks, Pettitt, von Neumann, lag 1.
for (name in names(series)) {
  x <- series[[name]]; n <- length(x); r <- rank(x)
  U <- 2 * cumsum(r) - seq_len(n) * (n + 1); K <- max(abs(U))
  put(paste("order", name), K = K, last = which.max(abs(U)), formula = min(1, 2 * exp(-6 * K^2 / (n^3 + n^2))),
    rvn = sum(diff(r)^2) / sum((r - mean(r))^2), r1 = acf(x, plot = FALSE)$acf[2],
    vn = sum(diff(x)^2) / sum((x - mean(x))^2))
  r1 <- acf(x, plot = FALSE)$acf[2]
  # The interval of rho, by the roots of its definition.
  pivot <- function(p) (r1 - (p - (1 + 4 * p) / n))^2 - qnorm(.975)^2 * (1 - p^2) / n
  rho <- (r1 + 1 / n) / (1 - 4 / n)
  low <- if (pivot(-1) > 0) uniroot(pivot, c(-1, min(rho, .999)), tol = 1e-13)$root else -1
  high <- if (pivot(1) > 0) uniroot(pivot, c(min(rho, .999), 1), tol = 1e-13)$root else 1
  times <- function(p) if (p <= 0) 1 else 1 + 2 * sum((1 - 1:(n - 1) / n) * p^(1:(n - 1)))
  put(paste("serial", name), rho = rho, low = low, high = high, effective = n / times(rho), eff_low = n / times(high))
}

# The beta law of the rank ratio.
for (n in c(11, 15, 20, 48, 98)) {
  a <- 5 * n * (n + 1) * (n - 1)^2 / (2 * (n - 2) * (5 * n^2 - 2 * n - 9)) - .5
  for (s in c(.005, .05)) put(paste("critical", n, s), value = 4 * qbeta(s, a, a))
  put(paste("lower", n), p = pbeta(1.5 / 4, a, a))
}

# Starts and ends that are off: every place of the grid by lm; the ends of the
# interval by one-dimensional searches over the profile.
grid <- 0:99 / 99
shapes <- list(
  fading = function(u, g) { s <- max(u) / (length(u) - 1); h <- s * (max(u) / 3 / s)^g; list(h, 2^(-u / h)) },
  "broken from" = function(u, g) { s <- max(u) / (length(u) - 1); c <- 2 * s + g * (2 * max(u) / 3 - 2 * s); list(c + 1, pmax(0, 1 - u / c)) },
  "broken to" = function(u, g) { s <- max(u) / (length(u) - 1); c <- max(u) / 3 + g * (max(u) - 2 * s - max(u) / 3); list(c + 1, pmax(0, (u - c) / (max(u) - c))) })
for (name in c("lh", "weights", "speed")) for (shape in names(shapes)) {
  x <- series[[name]]; n <- length(x); u <- seq_len(n) - 1
  curves <- lapply(grid, function(g) shapes[[shape]](u, g))
  ss <- sapply(curves, function(c) deviance(lm(x ~ c[[2]]))); best <- which.min(ss)
  fit <- coef(lm(x ~ curves[[best]][[2]]))
  limit <- min(ss) * (1 + 2 * qf(.95, 2, n - 3) / (n - 3))
  profile <- function(off) min(sapply(curves, function(c) { e <- x - off * c[[2]]; sum((e - mean(e))^2) })) - limit
  b <- unname(fit[2]); wide <- 20 * sd(x)
  put(paste(shape, name), level = unname(fit[1]), off = b, place = curves[[best]][[1]],
    low = uniroot(profile, c(b - wide, b), tol = 1e-11)$root, high = uniroot(profile, c(b, b + wide), tol = 1e-11)$root,
    place_low = min(sapply(curves[ss <= limit], `[[`, 1)), place_high = max(sapply(curves[ss <= limit], `[[`, 1)),
    explained = 1 - min(ss) / sum((x - mean(x))^2))
}

# Limits of T2.
for (m in c(10, 20, 30)) for (a in c(.05, .0027)) put(paste("limit", m, a),
  I = (m - 1)^2 / m * qbeta(1 - a, 1, (m - 3) / 2), II = 2 * (m + 1) * (m - 1) / (m^2 - 2 * m) * qf(1 - a, 2, m - 2))

# T2 of the sepals of 20 setosa, and of the first versicolor flowers against them.
side <- iris$Sepal.Width; carry <- iris$Sepal.Length
put("iris", side = side[1:56], carry = carry[1:56])
own <- cbind(side, carry)[1:20, ]; later <- cbind(side, carry)[51:56, ]
put("T2", own = mahalanobis(own, colMeans(own), cov(own)), later = mahalanobis(later, colMeans(own), cov(own)))

# The kept share of three groups of plants, by the roots of its definition.
B <- PlantGrowth$weight[11:20]; I <- PlantGrowth$weight[21:30]; R <- PlantGrowth$weight[1:10]
for (day in c(0, .1)) {
  v <- function(x) var(x) / length(x)
  share <- (mean(R) - mean(B)) / (mean(I) - mean(B))
  df <- function(wR, wB, wI) (wR * v(R) + wB * v(B) + wI * v(I))^2 / ((wR * v(R))^2 / 9 + (wB * v(B))^2 / 9 + (wI * v(I))^2 / 9)
  nu <- min(df(1, (1 - share)^2, share^2), df(0, 1, 1))
  pivot <- function(p) (mean(R) - mean(B) - p * (mean(I) - mean(B)))^2 - qt(.975, nu)^2 * (v(R) + (1 - p)^2 * v(B) + p^2 * v(I) + 2 * day^2)
  put(paste("share", day), share = share, low = uniroot(pivot, c(-50, share), tol = 1e-13)$root, high = uniroot(pivot, c(share, 50), tol = 1e-13)$root)
}
writeLines(out, "../golden.csv")
