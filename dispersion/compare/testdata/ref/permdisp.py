# Remakes ../permdisp.csv: the analysis of variance of distances from spatial
# medians found here to 30 digits.
#   python3 permdisp.py   (SciPy 1.10.1, mpmath 1.2.1; nothing here is Landfall's)
import json
from mpmath import mp, mpf, sqrt, findroot
from scipy.stats import f_oneway
mp.dps = 40
sets = json.load(open('../../../testdata/ref/datasets.json'))['bivariate']

def pull(points, m):  # the sum of unit vectors from m to the points that are elsewhere
    away = [(x - m[0], y - m[1]) for x, y in points]
    away = [(u, v, sqrt(u * u + v * v)) for u, v in away if u or v]
    return sum(u / d for u, v, d in away), sum(v / d for u, v, d in away), len(points) - len(away)

def median(points):
    for m in points:  # a data point, if the others pull no harder than it weighs
        a, b, weight = pull(points, m)
        if sqrt(a * a + b * b) <= weight:
            return m
    m = [sum(c) / len(points) for c in zip(*points)]
    for _ in range(300):  # Weiszfeld's steps as a start for Newton's
        w = [1 / sqrt((x - m[0])**2 + (y - m[1])**2) for x, y in points]
        m = [sum(p[k] * v for p, v in zip(points, w)) / sum(w) for k in (0, 1)]
    return findroot(lambda x, y: list(pull(points, (x, y))[:2]), m)

def distances(name):
    points = [(mpf(repr(x)), mpf(repr(y))) for x, y in sets[name]]
    m = median(points)
    grow = sqrt(mpf(len(points)) / (len(points) - 1))
    return [float(grow * sqrt((x - m[0])**2 + (y - m[1])**2)) for x, y in points]

with open('../permdisp.csv', 'w') as out:
    out.write('# SciPy 1.10.1 (f_oneway), mpmath 1.2.1 (medians); made by ref/permdisp.py\nstages,f,p,first,last\n')
    for names in ('a3 b6', 'b6 ties8', 'b6 c12', 'p20 q20', 'p20 d40', 'versicolor virginica', 'setosa versicolor virginica'):
        d = [distances(n) for n in names.split()]
        f, p = f_oneway(*d)
        out.write(f'{names},{float(f)!r},{float(p)!r},{sum(d[0]) / len(d[0])!r},{sum(d[-1]) / len(d[-1])!r}\n')
