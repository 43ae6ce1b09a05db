# Bivariate t: centre, scale and log-likelihood for fixed degrees of freedom
# (MASS::cov.trob) and the degrees of freedom with the largest likelihood in
# [3, 1e6] (optimize over their inverse).
source("lib.R"); suppressMessages(library(MASS))
loglik <- function(X,f,nu){ d <- mahalanobis(X,f$center,f$cov); sum(-log(2*pi)-log(det(f$cov))/2-(nu+2)/2*log1p(d/nu)) }
fit <- function(X,nu) cov.trob(X,nu=nu,maxit=20000,tol=1e-11)
out <- list()
for(nm in c("b6","c12","p20","d40","stars","setosa","virginica","hbk2")){ X <- B[[nm]]; r <- list()
 for(nu in c(3,5,10)){ f <- fit(X,nu); r[[paste0("nu_",nu)]] <- list(center=f$center,scale=f$cov,loglik=loglik(X,f,nu)) }
 o <- optimize(function(k) loglik(X,fit(X,1/k),1/k),c(1e-6,1/3),maximum=TRUE,tol=1e-9)
 r$best <- list(inverse_nu=o$maximum,loglik=o$objective); n <- nrow(X)
 S <- cov(X)*(n-1)/n; r$normal_loglik <- -n*(log(2*pi)+log(det(S))/2+1)
 out[[nm]] <- r }
wr("tfit","Bivariate t fits",list(datasets=names(out)),out,paste(RV,vp("MASS")),"1e-7 relative; inverse_nu 1e-5")
