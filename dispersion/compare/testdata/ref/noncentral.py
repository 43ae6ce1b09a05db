"""Remakes ../noncentral_t.csv and ../power_t.csv: python3 noncentral.py (mpmath 1.3.0)."""
import itertools
from mpmath import mp, mpf, quad, exp, log, loggamma, ncdf, sqrt, findroot, betainc, inf

mp.dps = 30


def noncentral(t, df, shift):
    """P(T <= t), by integration over the chi variable s = sqrt(chi2/df)."""
    t, df, shift = mpf(t), mpf(df), mpf(shift)
    const = log(2) + df / 2 * log(df / 2) - loggamma(df / 2)
    density = lambda s: exp(const + (df - 1) * log(s) - df * s * s / 2)
    width = 1 / sqrt(2 * df)
    cuts = sorted({mpf(0), *(max(mpf(0), 1 + k * width) for k in range(-12, 13, 2)), mpf(8)} | {mpf(inf)})
    return quad(lambda s: ncdf(t * s - shift) * density(s), cuts)


def quantile975(df):
    upper = lambda t: betainc(df / mpf(2), mpf(1) / 2, 0, df / (df + t * t), regularized=True) / 2 - mpf("0.025")
    return findroot(upper, (mpf("1.9"), mpf(20)), solver="anderson")


with open("../noncentral_t.csv") as f:
    head = [next(f), next(f)]
    rows = [line.split(",")[:3] for line in f]
with open("../noncentral_t.csv", "w") as f:
    f.writelines(head)
    for t, df, shift in rows:
        f.write(f"{t},{df},{shift},{float(noncentral(t, df, shift))!r}\n")
with open("../power_t.csv") as f:
    head = [next(f), next(f)]
    rows = [line.split(",")[:2] for line in f]
with open("../power_t.csv", "w") as f:
    f.writelines(head)
    for n, d in rows:
        df, shift = 2 * int(n) - 2, mpf(d) * sqrt(mpf(n) / 2)
        q = quantile975(df)
        f.write(f"{n},{d},{float(noncentral(-q, df, -shift) + noncentral(-q, df, shift))!r}\n")
