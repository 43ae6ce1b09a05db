# JSON writer: every number printed so that it reads back to the same double; NaN/Inf as strings.
suppressMessages(library(jsonlite))
ROOT <- "./"
num <- function(x){ if(is.na(x)) return(if(is.nan(x)) "\"NaN\"" else "null"); if(is.infinite(x)) return(if(x>0) "\"Inf\"" else "\"-Inf\"")
  s <- sprintf("%.15g",x); if(as.numeric(s)!=x) s <- sprintf("%.17g",x); s }
js <- function(x){
  if(is.null(x)) return("null")
  if(is.data.frame(x)) x <- as.list(x)
  if(is.matrix(x)){ dimnames(x) <- NULL; return(paste0("[",paste(apply(x,1,function(r) js(I(as.vector(r)))),collapse=","),"]")) }
  if(is.list(x)){ nm <- names(x); v <- vapply(x,js,"")
    if(is.null(nm)) return(paste0("[",paste(v,collapse=","),"]"))
    return(paste0("{",paste0(vapply(nm,function(s) as.character(toJSON(unbox(s))),""),":",v,collapse=","),"}")) }
  keep <- inherits(x,"AsIs"); x <- unclass(x)
  if(is.factor(x)) x <- as.character(x)
  el <- if(is.character(x)) vapply(x,function(s) as.character(toJSON(unbox(s))),"") else if(is.logical(x)) ifelse(is.na(x),"null",ifelse(x,"true","false")) else vapply(as.numeric(x),num,"")
  if(length(x)==1 && !keep) return(unname(el)); paste0("[",paste(el,collapse=","),"]") }
arr <- function(x) I(as.vector(x))
wr <- function(id, desc, input, output, how, tol="1e-9 relative unless said"){
  o <- list(id=id, description=desc, made_with=how, suggested_tolerance=tol, input=input, output=output)
  s <- js(o); stopifnot(validate(s)); s <- gsub('","', '","', s, fixed=TRUE); writeLines(s, file.path(ROOT,paste0(id,".json"))) }
D <- fromJSON(file.path(ROOT,"datasets.json"), simplifyVector=TRUE)
B <- lapply(D$bivariate, function(m) unname(as.matrix(m)))
vp <- function(p) paste0(p," ",as.character(packageVersion(p)))
RV <- paste0("R ",getRversion())
v1 <- function(x) if(is.null(x)) NULL else I(as.vector(x))
