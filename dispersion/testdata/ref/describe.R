source("lib.R"); suppressMessages({library(robustbase); library(MASS)})
ori <- function(e){ v <- e$vectors; for(j in 1:2){ k <- which.max(abs(v[,j])); if(v[k,j]<0) v[,j] <- -v[,j] }; v }
ell <- function(lam, ang, k){ list(d2_limit=k, semi_major=sqrt(max(lam[1],0)*k), semi_minor=sqrt(max(lam[2],0)*k), angle_rad=ang, angle_deg=ang*180/pi, area=pi*k*sqrt(max(lam[1],0)*max(lam[2],0))) }
c4 <- function(n) sqrt(2/(n-1))*exp(lgamma(n/2)-lgamma((n-1)/2))
for(nm in names(B)){ X <- B[[nm]]; n <- nrow(X); m <- colMeans(X); S <- cov(X); e <- eigen(S,symmetric=TRUE); v <- ori(e)
  exact0 <- nm=="line6"; lam <- e$values; if(exact0) lam[2] <- 0
  ang <- atan2(v[2,1],v[1,1]); if(ang>pi/2+1e-15) ang <- ang-pi; if(ang<=-pi/2) ang <- ang+pi
  detS <- if(exact0) 0 else S[1,1]*S[2,2]-S[1,2]^2
  P <- c(.5,.9,.95); q <- qf(P,2,n-2)
  ellm <- list(); ellp <- list(); ellc <- list()
  for(i in 1:3){ nmP <- as.character(P[i]); ellm[[nmP]] <- ell(lam,ang,2*(n-1)/(n*(n-2))*q[i]); ellp[[nmP]] <- ell(lam,ang,2*(n^2-1)/(n*(n-2))*q[i]); ellc[[nmP]] <- ell(lam,ang,qchisq(P[i],2)) }
  R <- sqrt(rowSums(sweep(X,2,m)^2)); SS <- sum(R^2); dd <- as.matrix(dist(X))
  h <- chull(X); hx <- X[h,,drop=FALSE]; k <- nrow(hx); j <- c(2:k,1); harea <- abs(sum(hx[,1]*hx[j,2]-hx[j,1]*hx[,2]))/2
  # Mardia (S with divisor n), needs n>=3 and nonsingular S
  mard <- NULL
  if(!exact0 && n>3){ Sn <- S*(n-1)/n; Z <- sweep(X,2,m); G <- Z%*%solve(Sn)%*%t(Z); b1 <- sum(G^3)/n^2; b2 <- sum(diag(G)^2)/n; p <- 2; df <- p*(p+1)*(p+2)/6
    kk <- (p+1)*(n+1)*(n+3)/(n*((n+1)*(p+1)-6))
    mard <- list(b1=b1,b2=b2,skew_chi2=n*b1/6,df=df,skew_p=pchisq(n*b1/6,df,lower=FALSE),skew_chi2_small_n=n*kk*b1/6,skew_p_small_n=pchisq(n*kk*b1/6,df,lower=FALSE),kurt_z=(b2-p*(p+2))/sqrt(8*p*(p+2)/n),kurt_p=2*pnorm(-abs((b2-p*(p+2))/sqrt(8*p*(p+2)/n)))) }
  sw <- lapply(1:2,function(c){ t <- shapiro.test(X[,c]); list(W=unname(t$statistic),p=t$p.value) })
  walsh <- function(x,incl){ o <- outer(x,x,"+")/2; median(o[upper.tri(o,diag=incl)]) }
  tgt <- D$targets[[nm]]; rt <- if(is.null(tgt)) NULL else { r2 <- sum(sweep(X,2,tgt)^2); list(target=tgt, mean_radius=mean(sqrt(rowSums(sweep(X,2,tgt)^2))), rms_radius=sqrt(r2/n), sigma_ml=sqrt(r2/(2*n)), sigma_unbiased=sqrt(r2/(2*n))/c4(2*n+1), df=2*n, ci95=sqrt(r2/qchisq(c(.975,.025),2*n))) }
  ct <- if(n>3 && !exact0) cor.test(X[,1],X[,2]) else NULL
  out <- list(n=n, mean=m, cov=S, cor=if(exact0) 1 else cor(X)[1,2], cor_test=if(is.null(ct)) NULL else list(t=unname(ct$statistic),df=unname(ct$parameter),p=ct$p.value,fisher_z_ci95=as.vector(ct$conf.int)),
    eigen=list(values=lam, vectors_as_columns=v, sign_rule="largest-magnitude component positive", major_axis_angle_rad_from_plus_x=ang), det=detS, sqrt_det=sqrt(detS), log_sqrt_det=if(exact0) NULL else log(detS)/2,
    ellipse_mean=ellm, ellipse_prediction=ellp, ellipse_data_chi2=ellc,
    marginal_median=apply(X,2,median), mad_1.4826=apply(X,2,mad), iqr_type7=apply(X,2,IQR),
    Qn=apply(X,2,Qn), Sn=apply(X,2,Sn), Qn_no_finite_corr=apply(X,2,Qn,finite.corr=FALSE), Sn_no_finite_corr=apply(X,2,Sn,finite.corr=FALSE), huberM=apply(X,2,function(x) huberM(x)$mu), tau2=apply(X,2,scaleTau2),
    hodges_lehmann_i_le_j=apply(X,2,walsh,TRUE), hodges_lehmann_i_lt_j=apply(X,2,walsh,FALSE),
    mean_radius=mean(R), median_radius=median(R), max_radius=max(R), rms_radius=sqrt(SS/n), extreme_spread=max(dd), mean_pair_distance=mean(dd[upper.tri(dd)]),
    hull_vertices_1based=sort(h), hull_area=if(exact0) 0 else harea,
    rayleigh=list(sigma_ml=sqrt(SS/(2*n)), sigma_var_unbiased=sqrt(SS/(2*(n-1))), sigma_unbiased=sqrt(SS/(2*(n-1)))/c4(2*n-1), df=2*(n-1), ci95=sqrt(SS/qchisq(c(.975,.025),2*(n-1))), cep50_from_unbiased=sqrt(2*log(2))*sqrt(SS/(2*(n-1)))/c4(2*n-1)),
    about_target=rt, mardia=mard, shapiro_wilk=list(x=sw[[1]],y=sw[[2]]),
    area_ci95_sqrt_det_sigma=if(n>2&&!exact0) sqrt(detS)*2*(n-1)/qchisq(c(.975,.025),2*n-4) else NULL)
  wr(paste0("describe_",nm), paste("One-group description of",nm), list(dataset=nm, points=X), out, paste(RV, vp("robustbase"), "own closed forms for ellipses (checked against qf)"))
}
