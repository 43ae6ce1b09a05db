source("lib.R"); suppressMessages({library(robustbase); library(rrcov); library(MASS); library(ddalpha)})
exact <- function(X,h){ n <- nrow(X)
  if(choose(n,h) <= 3e5){ cmb <- combn(n,h); d <- apply(cmb,2,function(i){ Z <- sweep(X[i,,drop=FALSE],2,colMeans(X[i,,drop=FALSE])); (sum(Z[,1]^2)*sum(Z[,2]^2)-sum(Z[,1]*Z[,2])^2)/(h-1)^2 })
    tot <- sum((X[,1]-mean(X[,1]))^2)*sum((X[,2]-mean(X[,2]))^2)/(n-1)^2; d[d<1e-12*tot] <- 0; k <- which.min(d); return(list(method="all subsets",subsets=ncol(cmb),best=cmb[,k],det=d[k],optimal_subsets=sum(d<=d[k]*(1+1e-9)+1e-300))) }
  o <- system2("./exact_mcd", input=c(paste(n,h),sprintf("%.17g %.17g",X[,1],X[,2])), stdout=TRUE); v <- as.numeric(strsplit(o," ")[[1]])
  list(method="conics through 5 points (own C, exact)",evaluated=v[3],next_best_seen=v[2],best=as.integer(v[-(1:3)]),det=v[1]) }
for(nm in names(B)){ X <- B[[nm]]; n <- nrow(X); out <- list()
 for(al in c(.5,.75)){ key <- paste0("alpha_",al); h <- h.alpha.n(al,n,2)
  r <- list(h=h)
  ex <- tryCatch(exact(X,h),error=function(e) list(error=conditionMessage(e)))
  if(!is.null(ex$best)){ i <- ex$best; ex$raw_mean <- colMeans(X[i,,drop=FALSE]); ex$raw_cov_unscaled <- cov(X[i,,drop=FALSE]) }
  r$exact <- ex
  set.seed(1); cm <- tryCatch(suppressWarnings(covMcd(X,alpha=al,nsamp=if(choose(n,3)<=5000) "exact" else 20000)),error=function(e) list(err=conditionMessage(e)))
  if(!is.null(cm$err)) r$covMcd_error <- cm$err else
   r$covMcd <- list(best=v1(cm$best), crit_logdet=cm$crit, raw_center=cm$raw.center, raw_cov_scaled=cm$raw.cov, raw_cnp2=cm$raw.cnp2, center=cm$center, cov=cm$cov, cnp2=cm$cnp2, weights=cm$mcd.wt, outliers_1based=v1(which(cm$mcd.wt==0)), mah_d2=cm$mah, raw_mah_d2=cm$raw.mah, singular=if(is.null(cm$singularity)) NULL else cm$singularity$kind)
  set.seed(1); cd <- tryCatch(suppressWarnings(covMcd(X,alpha=al)),error=function(e) NULL)
  if(!is.null(cd)) r$covMcd_default_nsamp500_seed1 <- list(best=v1(cd$best), crit_logdet=cd$crit, same_subset_as_exact=identical(as.integer(sort(cd$best)),as.integer(sort(ex$best))))
  dt <- tryCatch(suppressWarnings(covMcd(X,alpha=al,nsamp="deterministic")),error=function(e) NULL)
  if(!is.null(dt)) r$covMcd_deterministic <- list(best=v1(dt$best), crit_logdet=dt$crit, same_subset_as_exact=identical(as.integer(sort(dt$best)),as.integer(sort(ex$best))))
  if(!is.null(cm$best)) r$covMcd_same_subset_as_exact <- identical(as.integer(sort(cm$best)),as.integer(sort(ex$best)))
  out[[key]] <- r }
 mve <- tryCatch({set.seed(1); m <- cov.mve(X, nsamp=if(choose(n,3)<=20000) "exact" else 20000); list(center=m$center,cov=m$cov,crit=m$crit,best=m$best)},error=function(e) list(error=conditionMessage(e)))
 out$MASS_cov.mve <- mve
 ogk <- tryCatch({o <- covOGK(X,sigmamu=scaleTau2); list(center=o$center,cov=o$cov,wcenter=o$wcenter,wcov=o$wcov)},error=function(e) list(error=conditionMessage(e))); out$covOGK_tau2 <- ogk
 out$ddalpha_halfspace_depth_exact <- depth.halfspace(X,X,exact=TRUE); out$ddalpha_halfspace_counts <- round(n*depth.halfspace(X,X,exact=TRUE))
 out$ddalpha_projection_note <- "ddalpha returns depth as a proportion; counts = round(n*depth)"
 out$ddalpha_mahalanobis_depth <- tryCatch(depth.Mahalanobis(X,X),error=function(e) "error"); out$ddalpha_simplicial <- tryCatch(depth.simplicial(X,X,exact=TRUE),error=function(e) "error")
 wr(paste0("robust_",nm),paste("MCD (exact and robustbase), OGK, MVE estimator, depths:",nm),list(dataset=nm,points=X),out,paste(RV,vp("robustbase"),vp("MASS"),vp("ddalpha")),"1e-8 relative; subsets exact") ; cat(nm,"\n") }
