"""Moments from whole sums, in exact fractions, rounded once: sums.csv."""
import csv
import random
from fractions import Fraction

random.seed(20240501)


def sums(points):
    return (
        len(points),
        sum(x for x, _ in points),
        sum(y for _, y in points),
        sum(x * x for x, _ in points),
        sum(x * y for x, y in points),
        sum(y * y for _, y in points),
    )


def moments(points):
    """Centred sums from their definition, in yards, not from the six sums."""
    n = len(points)
    xs = [Fraction(x, 10) for x, _ in points]
    ys = [Fraction(y, 10) for _, y in points]
    mx, my = sum(xs) / n, sum(ys) / n
    sxx = sum((x - mx) ** 2 for x in xs)
    sxy = sum((x - mx) * (y - my) for x, y in zip(xs, ys))
    syy = sum((y - my) ** 2 for y in ys)
    # float() of a Fraction rounds once, to the nearest.
    return [float(v).hex() for v in (mx, my, sxx, sxy, syy)]


cases = [
    [(0, 0)],
    [(-15, 1500)],
    [(1, 1), (2, 3)],
    [(7, 1500)] * 3,
    [(random.gauss(0, 80), random.gauss(1500, 60)) for _ in range(10)],
    [(random.gauss(0, 80), random.gauss(1500, 60)) for _ in range(1000)],
    [(random.gauss(300, 1), random.gauss(9_000_000, 1)) for _ in range(501)],
    [(random.choice([-1, 1]) * 10_000_000, random.choice([0, 1]) * 10_000_000) for _ in range(3001)],
]
cases = [[(round(x), round(y)) for x, y in c] for c in cases]

with open("sums.csv", "w", newline="") as f:
    out = csv.writer(f, lineterminator="\n")
    out.writerow("n side carry side_side side_carry carry_carry mean_side mean_carry sxx sxy syy".split())
    for points in cases:
        out.writerow([*sums(points), *moments(points)])
