# Exact / high-precision geometry: correctly rounded moments, spatial median, smallest circle, minimum-area ellipse, hull,
# halfspace depth by exact integer arithmetic, Tukey median region (exact polygon clipping with fractions).
import json, itertools, math
from fractions import Fraction as Fr
from mpmath import mp, mpf, matrix, lu_solve, sqrt, findroot, pi as mpi, atan2, eigsy
mp.dps = 40
ROOT = './'
D = json.load(open(ROOT + '/datasets.json'))
def fr(v): return Fr(repr(v)) if isinstance(v, float) else Fr(v)
def f(x): return float(x)
def hull(P):  # Andrew, on exact fractions; strict
    P = sorted(set(P))
    if len(P) <= 2: return P
    def half(Q):
        h = []
        for p in Q:
            while len(h) >= 2 and (h[-1][0]-h[-2][0])*(p[1]-h[-2][1]) - (h[-1][1]-h[-2][1])*(p[0]-h[-2][0]) <= 0: h.pop()
            h.append(p)
        return h
    a, b = half(P), half(P[::-1]); return a[:-1] + b[:-1]
def area(H): return abs(sum(H[i][0]*H[(i+1) % len(H)][1] - H[(i+1) % len(H)][0]*H[i][1] for i in range(len(H))))/2 if len(H) > 2 else Fr(0)
def centroid(H):
    A = Fr(0); cx = Fr(0); cy = Fr(0); o = H[0]
    for i in range(1, len(H)-1):
        ax, ay, bx, by = H[i][0]-o[0], H[i][1]-o[1], H[i+1][0]-o[0], H[i+1][1]-o[1]; c = ax*by - ay*bx; A += c; cx += c*(ax+bx)/3; cy += c*(ay+by)/3
    return (o[0]+cx/A, o[1]+cy/A)
def mec(P):  # exact smallest enclosing circle over hull pairs and triples
    H = hull(P); best = None
    def ok(c, r2): return all((p[0]-c[0])**2 + (p[1]-c[1])**2 <= r2 for p in H)
    for a, b in itertools.combinations(H, 2):
        c = ((a[0]+b[0])/2, (a[1]+b[1])/2); r2 = (a[0]-c[0])**2 + (a[1]-c[1])**2
        if (best is None or r2 < best[1]) and ok(c, r2): best = (c, r2, (a, b))
    for a, b, d in itertools.combinations(H, 3):
        z = 2*((b[0]-a[0])*(d[1]-a[1]) - (b[1]-a[1])*(d[0]-a[0]))
        if z == 0: continue
        B = (b[0]-a[0])**2+(b[1]-a[1])**2; C = (d[0]-a[0])**2+(d[1]-a[1])**2
        c = (a[0]+((d[1]-a[1])*B-(b[1]-a[1])*C)/z, a[1]+((b[0]-a[0])*C-(d[0]-a[0])*B)/z); r2 = (a[0]-c[0])**2+(a[1]-c[1])**2
        if (best is None or r2 < best[1]) and ok(c, r2): best = (c, r2, (a, b, d))
    return best
def depth(q, P):  # closed halfspace, exact; O(m^2)
    same = sum(1 for p in P if p == q); V = [(p[0]-q[0], p[1]-q[1]) for p in P if p != q]
    if not V: return same
    best = len(V)
    for (ux, uy) in V:  # boundary line along +-u, tilted infinitesimally either way: points strictly on a side + one half of the line
        L = Rr = Pp = Nn = 0
        for (x, y) in V:
            c = ux*y - uy*x
            if c > 0: L += 1
            elif c < 0: Rr += 1
            elif ux*x + uy*y > 0: Pp += 1
            else: Nn += 1
        best = min(best, L+Pp, L+Nn, Rr+Pp, Rr+Nn)
    return best + same
def clip(Q, a, b):  # keep points on or left of a->b
    out = []; m = len(Q)
    s = [(b[0]-a[0])*(p[1]-a[1]) - (b[1]-a[1])*(p[0]-a[0]) for p in Q]
    for i in range(m):
        j = (i+1) % m
        if s[i] >= 0: out.append(Q[i])
        if (s[i] > 0 and s[j] < 0) or (s[i] < 0 and s[j] > 0):
            t = s[i]/(s[i]-s[j]); out.append((Q[i][0]+t*(Q[j][0]-Q[i][0]), Q[i][1]+t*(Q[j][1]-Q[i][1])))
    r = []
    for p in out:
        if not r or r[-1] != p: r.append(p)
    if len(r) > 1 and r[0] == r[-1]: r.pop()
    return r
def tukey(P):
    n = len(P); U = sorted(set(P)); lines = []
    for a in U:
        for b in U:
            if a == b: continue
            right = sum(1 for p in P if (b[0]-a[0])*(p[1]-a[1]) - (b[1]-a[1])*(p[0]-a[0]) < 0); lines.append((right, a, b))
    lines.sort(key=lambda t: t[0]); lo = [min(p[0] for p in P), min(p[1] for p in P)]; hi = [max(p[0] for p in P), max(p[1] for p in P)]
    def region(k):
        Q = [(lo[0], lo[1]), (hi[0], lo[1]), (hi[0], hi[1]), (lo[0], hi[1])]
        for right, a, b in reversed([t for t in lines if t[0] <= k-1]):
            Q = clip(Q, a, b)
            if not Q: return Q
        return Q
    k = (n+2)//3; last = region(k)
    while True:
        nx = region(k+1)
        if not nx: break
        k += 1; last = nx
    H = hull(last); return k, H
def spatial_median(P):
    X = [(mpf(p[0].numerator)/p[0].denominator, mpf(p[1].numerator)/p[1].denominator) for p in P]
    # a data point is the median if |sum of unit vectors to others| <= multiplicity
    for q in set(X):
        m = sum(1 for p in X if p == q); gx = gy = mpf(0)
        for p in X:
            if p != q: d = sqrt((p[0]-q[0])**2+(p[1]-q[1])**2); gx += (p[0]-q[0])/d; gy += (p[1]-q[1])/d
        if sqrt(gx*gx+gy*gy) <= m: return q, 'at a data point', sqrt(gx*gx+gy*gy)
    c = [sum(p[i] for p in X)/len(X) for i in (0, 1)]
    for it in range(500):  # Weiszfeld warm-up then damped Newton
        W = [(1/sqrt((p[0]-c[0])**2+(p[1]-c[1])**2), p) for p in X if (p[0]-c[0])**2+(p[1]-c[1])**2 > mpf(10)**-30]
        if it < 60:
            s = sum(w for w, _ in W); c = [sum(w*p[0] for w, p in W)/s, sum(w*p[1] for w, p in W)/s]; continue
        g = [sum(w*(c[i]-p[i]) for w, p in W) for i in (0, 1)]; a = b = d = mpf(0)
        for w, p in W:
            ux, uy = (p[0]-c[0])*w, (p[1]-c[1])*w; a += w*(1-ux*ux); b -= w*ux*uy; d += w*(1-uy*uy)
        det = a*d-b*b; st = [(d*g[0]-b*g[1])/det, (a*g[1]-b*g[0])/det]; obj = lambda z: sum(sqrt((p[0]-z[0])**2+(p[1]-z[1])**2) for p in X); t = mpf(1); f0 = obj(c)
        while obj([c[0]-t*st[0], c[1]-t*st[1]]) > f0 and t > mpf(10)**-25: t /= 2
        c = [c[0]-t*st[0], c[1]-t*st[1]]
        if abs(st[0])+abs(st[1]) < mpf(10)**-28: break
    return tuple(c), 'interior', sqrt(g[0]**2+g[1]**2)
def mvee(P):  # minimum-area ellipse over hull: (x-c)' A (x-c) <= 1. Khachiyan/away-steps in doubles to find the support, Newton on u in 40 digits.
    H = hull(P); Q = [(mpf(p[0].numerator)/p[0].denominator, mpf(p[1].numerator)/p[1].denominator) for p in H]
    mx = sum(q[0] for q in Q)/len(Q); my = sum(q[1] for q in Q)/len(Q); Q0 = [(float(q[0]-mx), float(q[1]-my)) for q in Q]
    import numpy as np
    Z = np.array([[a, b, 1.0] for a, b in Q0]).T; sc = np.abs(Z).max(axis=1); Z = Z/sc[:, None]; m = Z.shape[1]; u = np.full(m, 1.0/m)
    for it in range(200000):
        k = np.einsum('ij,ij->j', Z, np.linalg.solve((Z*u)@Z.T, Z)); i = k.argmax(); kp = k[i]-3
        ks = np.where(u > 1e-14, k, np.inf); j = ks.argmin(); km = 3-ks[j]
        if max(kp, km) < 1e-12: break
        if kp >= km: t, lam = i, kp/(3*(k[i]-1))
        else: t = j; lim = -u[j]/(1-u[j]); lam = max((k[j]-3)/(3*(k[j]-1)), lim) if k[j] > 1 else lim
        u *= 1-lam; u[t] = max(u[t]+lam, 0)
    S = [i for i in range(m) if u[i] > 1e-7]
    pts = [(Q[i][0]-mx, Q[i][1]-my) for i in S]
    def M(us):
        A = matrix(3, 3)
        for w, p in zip(us, pts):
            v = (p[0], p[1], mpf(1))
            for r in range(3):
                for c in range(3): A[r, c] += w*v[r]*v[c]
        return A
    def eq(*us):
        A = M(us)**-1; r = []
        for p in pts:
            v = matrix([p[0], p[1], 1]); r.append((v.T*A*v)[0]-3)
        return r
    if len(S) == 3: us = [mpf(1)/3]*3
    else: us = list(findroot(eq, [mpf(float(u[i])) for i in S], tol=1e-60, maxsteps=200)) 
    s = sum(us); us = [w/s for w in us]
    c = [sum(w*p[i] for w, p in zip(us, pts)) for i in (0, 1)]
    C = matrix(2, 2)
    for w, p in zip(us, pts):
        for r in range(2):
            for q in range(2): C[r, q] += w*(p[r]-c[r])*(p[q]-c[q])
    Sh = 2*C  # shape matrix: (x-c)' Sh^-1 (x-c) <= 1
    Ai = Sh**-1; mxd = max((matrix([q[0]-mx-c[0], q[1]-my-c[1]]).T*Ai*matrix([q[0]-mx-c[0], q[1]-my-c[1]]))[0] for q in Q)
    ev = eigsy(Sh, eigvals_only=True); det = Sh[0, 0]*Sh[1, 1]-Sh[0, 1]**2; th = atan2(2*Sh[0, 1], Sh[0, 0]-Sh[1, 1])/2
    return dict(center=[f(c[0]+mx), f(c[1]+my)], shape_matrix=[[f(Sh[0, 0]), f(Sh[0, 1])], [f(Sh[0, 1]), f(Sh[1, 1])]], area=f(mpi*sqrt(det)), semi_major=f(sqrt(max(ev))), semi_minor=f(sqrt(min(ev))), angle_rad=f(th), support_points=[[f(H[i][0]), f(H[i][1])] for i in S], support_weights=[f(w) for w in us], max_distance_over_all_points=f(mxd))
for nm, pts in D['bivariate'].items():
    P = [(fr(a), fr(b)) for a, b in pts]; n = len(P); mx = sum(p[0] for p in P)/n; my = sum(p[1] for p in P)/n
    sxx = sum((p[0]-mx)**2 for p in P)/(n-1); sxy = sum((p[0]-mx)*(p[1]-my) for p in P)/(n-1); syy = sum((p[1]-my)**2 for p in P)/(n-1)
    col = sxx*syy == sxy*sxy; mpq = lambda z: mpf(z.numerator)/z.denominator
    tr, dt = mpq(sxx+syy), mpq(sxx*syy-sxy*sxy); disc = sqrt(mpq((sxx-syy)**2+4*sxy*sxy)); l1 = (tr+disc)/2; l2 = dt/l1
    out = dict(n=n, mean=[f(mx), f(my)], cov=[[f(sxx), f(sxy)], [f(sxy), f(syy)]], det=f(dt), sqrt_det=f(sqrt(dt)), eigenvalues=[f(l1), f(l2)], major_axis_angle_rad=f(atan2(mpq(2*sxy), mpq(sxx-syy))/2), cor=f(mpq(sxy)/sqrt(mpq(sxx*syy))),
        note='moments above are exact rational results of the decimal inputs, rounded once to double')
    sm, where, g = spatial_median(P); out['spatial_median'] = dict(point=[f(sm[0]), f(sm[1])], where=where, gradient_norm=f(g), sum_of_distances=f(sum(sqrt((mpq(p[0])-sm[0])**2+(mpq(p[1])-sm[1])**2) for p in P)), unique=not col)
    H = hull(P); out['hull'] = dict(vertices_ccw=[[f(a), f(b)] for a, b in H], area=f(area(H)))
    Hq = [(mpq(a), mpq(b)) for a, b in H]; out['hull']['perimeter'] = f(sum(sqrt((Hq[i][0]-Hq[i-1][0])**2+(Hq[i][1]-Hq[i-1][1])**2) for i in range(len(Hq))))
    out['extreme_spread'] = f(sqrt(mpq(max((a[0]-b[0])**2+(a[1]-b[1])**2 for a in H for b in H))))
    c, r2, sup = mec(P); out['smallest_enclosing_circle'] = dict(center=[f(c[0]), f(c[1])], radius=f(sqrt(mpq(r2))), support=[[f(a), f(b)] for a, b in sup])
    out['min_area_ellipse'] = mvee(P) if not col else dict(degenerate=True)
    out['halfspace_depth_counts'] = [depth(p, P) for p in P]
    if not col:
        k, R = tukey(P); out['tukey_median'] = dict(max_depth=k, region_vertices=[[f(a), f(b)] for a, b in R], region_area=f(area(R)), centroid=[f(z) for z in (centroid(R) if len(R) > 2 else (sum(a for a, _ in R)/len(R), sum(b for _, b in R)/len(R)))])
        cd = out['tukey_median']['centroid']
    import os; rf = ROOT+f'/robust_{nm}.json'; dd = json.load(open(rf))['output']['ddalpha_halfspace_counts'] if os.path.exists(rf) else None
    if dd: out['agrees_with_ddalpha_depth'] = dd == out['halfspace_depth_counts']
    json.dump(dict(id='geometry_'+nm, description='Exact / 40-digit geometry of '+nm, made_with='Python fractions and mpmath 1.2.1, own code', suggested_tolerance='1e-12 relative; depths exact', input=dict(dataset=nm, points=pts), output=out), open(ROOT+f'/geometry_{nm}.json', 'w'))
    print(nm, 'tukey', out.get('tukey_median', {}).get('max_depth'), out.get('tukey_median', {}).get('centroid'), 'dd', out.get('agrees_with_ddalpha_depth'), 'mvee', out['min_area_ellipse'].get('area'), len(out['min_area_ellipse'].get('support_points', [])), out['min_area_ellipse'].get('max_distance_over_all_points'), flush=True)
