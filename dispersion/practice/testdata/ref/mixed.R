# Reference fits of mixed models. R 4.2.2, lme4 1.1.31, pbkrtest 0.5.2.
# Run in this folder: Rscript mixed.R
suppressMessages({library(lme4); library(pbkrtest); library(jsonlite)})
ctl <- lmerControl(optimizer="bobyqa", optCtrl=list(rhoend=1e-14, maxfun=1e5), calc.derivs=FALSE,
  check.conv.singular="ignore", check.nobs.vs.nlev="ignore")
num <- function(x) unname(as.numeric(x))
terms_of <- function(m) { vc <- as.data.frame(VarCorr(m)); list(sd=num(vc$sdcor), names=vc$grp) }
# Mean squared errors of deviations by the mixed-model equations at the estimates.
kr_df <- function(m) if (isSingular(m)) NULL else sapply(seq_along(fixef(m)), function(j) { L <- rep(0, length(fixef(m))); L[j] <- 1
  V <- vcov(m); num(pbkrtest::ddf_Lb(vcovAdj(m), L, vcov(m))) })
one <- function(formula, data, profile=TRUE) {
  out <- list()
  for (re in c(TRUE, FALSE)) {
    m <- lmer(formula, data, REML=re, control=ctl)
    key <- if (re) "REML" else "ML"
    out[[key]] <- list(criterion=if (re) num(REMLcrit(m)) else num(deviance(m)), fixef=num(fixef(m)),
      se=num(sqrt(diag(as.matrix(vcov(m))))), spread=terms_of(m),
      deviations=lapply(ranef(m, condVar=FALSE), function(r) setNames(as.list(r[,1]), rownames(r))),
      fitted=num(fitted(m)))
    if (re) out[[key]]$df <- kr_df(m)
    if (!re && profile) { set.seed(1); ci <- suppressWarnings(suppressMessages(confint(m, method="profile", parm="theta_", quiet=TRUE)))
      out[[key]]$profile <- list(names=rownames(ci), low=num(ci[,1]), high=num(ci[,2])) }
  }
  out
}
data(sleepstudy); data(Dyestuff); data(Dyestuff2); data(Penicillin); data(Pastes)
res <- list(
  sleepstudy_slope1=one(Reaction ~ Days + (1|Subject), sleepstudy),
  sleepstudy_1=one(Reaction ~ 1 + (1|Subject), sleepstudy),
  sleepstudy_both=one(Reaction ~ Days + (1|Subject) + (0+Days|Subject), sleepstudy),
  dyestuff=one(Yield ~ 1 + (1|Batch), Dyestuff),
  dyestuff2=one(Yield ~ 1 + (1|Batch), Dyestuff2, FALSE),
  penicillin=one(diameter ~ 1 + (1|plate) + (1|sample), Penicillin),
  pastes=one(strength ~ 1 + (1|sample) + (1|batch), Pastes))
m <- lmer(Reaction ~ Days + (Days|Subject), sleepstudy, control=ctl)
vc <- as.data.frame(VarCorr(m))
res$sleepstudy_full <- list(REML=list(criterion=num(REMLcrit(m)), fixef=num(fixef(m)), se=num(sqrt(diag(as.matrix(vcov(m))))), sd=num(vc$sdcor)))
# Uneven groups: the sleepstudy days with every third row of some subjects left out.
u <- sleepstudy[!(as.integer(sleepstudy$Subject) %% 3 == 0 & sleepstudy$Days %% 2 == 1), ]
u$Late <- as.numeric(as.integer(u$Subject) > 9)
res$uneven <- one(Reaction ~ Days + Late + (1|Subject), u)
# An invented season, season.json: 8 sessions in each of 2 phases, 10 shots each.
sn <- fromJSON("season.json"); sn <- data.frame(y=sn$y, session=factor(sn$session), late=as.numeric(sn$phase == "B"), phase=sn$phase)
res$season <- one(y ~ late + (1|session), sn)
# Its closed form: balanced, so REML gives the mean squares.
sm <- aggregate(y ~ session + phase, sn, mean); ph <- ave(sm$y, sm$phase)
msb <- 10*sum((sm$y - ph)^2)/14; mse <- sum((sn$y - ave(sn$y, sn$session))^2)/144
res$season_anova <- list(REML=list(sd=c(sqrt((msb - mse)/10), sqrt(mse)), se=sqrt(msb/10*2/8)))
data <- list(
  season=list(y=sn$y, late=sn$late, subject=as.character(sn$session)),
  sleepstudy=list(y=sleepstudy$Reaction, days=sleepstudy$Days, subject=as.character(sleepstudy$Subject)),
  uneven=list(y=u$Reaction, days=u$Days, late=u$Late, subject=as.character(u$Subject)),
  dyestuff=list(y=Dyestuff$Yield, batch=as.character(Dyestuff$Batch)),
  dyestuff2=list(y=Dyestuff2$Yield, batch=as.character(Dyestuff2$Batch)),
  penicillin=list(y=Penicillin$diameter, plate=as.character(Penicillin$plate), sample=as.character(Penicillin$sample)),
  pastes=list(y=Pastes$strength, sample=as.character(Pastes$sample), batch=as.character(Pastes$batch)))
write(toJSON(list(made_with=paste(R.version.string, "lme4", packageVersion("lme4"), "pbkrtest", packageVersion("pbkrtest")),
  data=data, fits=res), digits=NA, auto_unbox=TRUE, pretty=FALSE), "mixed.json")
