"""Remakes ../orders.json with Python's itertools and fractions alone:

    python3 orders.py

Every order of a few values, one after the other: how many have so large a K of
Pettitt, and so low or so high a rank von Neumann ratio, as the order given.
Nothing here is computed by Landfall.
"""
import json
from fractions import Fraction
from itertools import permutations

SERIES = {
    "shift": [3.1, 2.4, 2.9, 2.2, 5.0, 4.1, 4.6, 3.9],
    "ties": [1, 1, 2, 2, 2, 3, 1],
    "turns": [5, 1, 6, 2, 7, 3],
    "drift": [10, 12, 11, 14, 13, 15, 17, 16, 18],
    "tied drift": [1, 1, 2, 2, 3, 3, 4, 4],
}


def ranks(x):  # doubled, ties sharing the mean
    return [sum(v < w for v in x) * 2 + sum(v == w for v in x) + 1 for w in x]


def pettitt(r):
    u, most = 0, 0
    for v in r:
        u += v - len(r) - 1
        most = max(most, abs(u))
    return most


def steps(r):
    return sum((a - b) ** 2 for a, b in zip(r, r[1:]))


result = {}
for name, x in SERIES.items():
    r = ranks(x)
    k, s = pettitt(r), steps(r)
    total = large = low = high = 0
    for order in permutations(r):
        total += 1
        large += pettitt(order) >= k
        t = steps(order)
        low += t <= s
        high += t >= s
    result[name] = {
        "values": x, "k": k, "ratio": float(Fraction(s) / sum((v - len(r) - 1) ** 2 for v in r)),
        "k_p": large / total, "lower": low / total, "upper": high / total,
    }
with open("../orders.json", "w") as f:
    json.dump(result, f, indent=1)
    f.write("\n")
