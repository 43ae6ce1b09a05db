# Reference fits of exponential curves. R 4.2.2, stats::nls with SSasymp, profiles by MASS 7.3-58.2.
# Run in this folder: Rscript curve.R
suppressMessages({library(MASS); library(jsonlite)})
one <- function(d) {
  m <- nls(y ~ SSasymp(t, Asym, R0, lrc), d)
  s0 <- min(d$t) # R0 is the value at 0; the value at the first session is another function of the same curve
  m2 <- nls(y ~ Asym + (S - Asym)*exp(-exp(lrc)*(t - s0)), d, start=list(Asym=coef(m)[[1]], S=predict(m, data.frame(t=s0))[1], lrc=coef(m)[[3]]))
  ci <- suppressMessages(confint(m2))
  list(at=d$t, y=d$y, plateau=c(coef(m2)[["Asym"]], ci["Asym",]), start=c(coef(m2)[["S"]], ci["S",]),
    half=log(2)/exp(c(coef(m2)[["lrc"]], rev(ci["lrc",]))), sd=summary(m2)$sigma, fitted=as.numeric(fitted(m2)))
}
trees <- data.frame(t=Loblolly$age, y=Loblolly$height)
set.seed(7); s <- data.frame(t=0:15, y=round(160 - 25*exp(-.28*(0:15)) + rnorm(16, 0, 1.5), 1))
write(toJSON(list(made_with=R.version.string, trees=one(trees), invented=one(s)), digits=NA, auto_unbox=TRUE), "curve.json")
