# Makes datasets.json once. Invented groups: yards, x lateral (right +), y carry; rounded to 0.1 yd.
suppressMessages({library(jsonlite); library(robustbase); library(MASS)})
RNGkind("Mersenne-Twister","Inversion","Rejection"); set.seed(20260101)
mk <- function(n, mx, my, sx, sy, rho){ S <- matrix(c(sx^2,rho*sx*sy,rho*sx*sy,sy^2),2)
  z <- mvrnorm(n, c(mx,my), S); round(unname(z),1) }
a3  <- mk(3, 2.0,151, 7, 5, -.3)
b6  <- mk(6,-1.5,148, 6, 6, .2)
lx  <- c(-6,-3.5,-1,0.5,2,5); line6 <- cbind(lx, 150+1.5*lx)          # exactly collinear in binary
c12 <- mk(12, 1.0,152, 6, 5, -.4); c12[5,] <- c(48.5,96.0); c12[11,] <- c(-39.0,187.5)  # two gross outliers
d40 <- mk(40, 3.2,149.5, 7.5, 6, -.45)
p20 <- mk(20, 4.0,147.0, 8.0, 7.0, -.3)
q20 <- mk(20, 2.0,150.0, 5.5, 5.0, -.2)
ties8 <- rbind(c(0,150),c(0,150),c(2,151),c(2,149),c(-2,151),c(-2,149),c(0,155),c(4,150))  # ties and a duplicate
data(starsCYG); data(hbk)
pts <- function(m){ m <- unname(as.matrix(m)); lapply(seq_len(nrow(m)), function(i) as.numeric(m[i,])) }
ir <- function(s) iris[iris$Species==s, c("Sepal.Length","Sepal.Width")]
law <- cbind(c(576,635,558,578,666,580,555,661,651,605,653,575,545,572,594),
             c(3.39,3.30,2.81,3.03,3.44,3.07,3.00,3.43,3.36,3.13,3.12,2.74,2.76,2.88,2.96))
ses <- function(nses, eff, sd_s, sd_e){ unlist(lapply(seq_len(nses), function(i) round(rnorm(1,eff,sd_s)+rnorm(10,0,sd_e),1))) }
s1 <- ses(8,149,2.0,5.5); s2 <- ses(8,152.5,2.0,5.0)
nested <- list(y=c(s1,s2), session=rep(1:16,each=10), phase=rep(c("A","B"),each=80))
su <- rnorm(8,0,2.5); yy <- round(rep(150+su,each=20)+rep(rep(c(0,3),each=10),8)+rnorm(160,0,5),1)
crossed <- list(y=yy, session=rep(1:8,each=20), phase=rep(rep(c("A","B"),each=10),8))
out <- list(
 note="x = lateral (right +), y = carry, yards, for the invented groups. Points are [x,y].",
 bivariate=list(a3=pts(a3),b6=pts(b6),line6=pts(line6),ties8=pts(ties8),c12=pts(c12),p20=pts(p20),q20=pts(q20),d40=pts(d40),
  stars=pts(starsCYG),hbk2=pts(hbk[,1:2]),setosa=pts(ir("setosa")),versicolor=pts(ir("versicolor")),virginica=pts(ir("virginica")),law=pts(law)),
 univariate=list(mouse_treatment=c(94,197,16,38,99,141,23), mouse_control=c(52,104,146,10,50,31,40,27,46),
   mouse_control_book=c(52,104,146,10,51,30,40,27,46)),
 targets=list(a3=c(0,150),b6=c(0,150),line6=c(0,150),ties8=c(0,150),c12=c(0,150),p20=c(0,150),q20=c(0,150),d40=c(0,150)),
 season_nested=nested, season_crossed=crossed,
 sources=list(stars="robustbase::starsCYG (log.Te, log.light)", hbk2="robustbase::hbk[,1:2]", iris="R datasets::iris Sepal.Length, Sepal.Width",
  law="Efron & Tibshirani 1993 law school data (LSAT, GPA), n=15", mouse="Efron & Tibshirani 1993 mouse data; the R data object prints 50,31 where the book prints 51,30 (same mean, different ranks)",
  invented="a3,b6,line6,ties8,c12,p20,q20,d40, season_*: made here from a seeded generator, frozen"))
writeLines(toJSON(out, digits=I(15), auto_unbox=TRUE), "./datasets.json")
