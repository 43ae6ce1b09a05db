"""What Python's own csv, hmac, base64 and datetime make of our files and rules.

Run with Python 3.11.7:  python3 writing.py < ../written.csv > writing.json
"""
import base64, csv, datetime, hashlib, hmac, json, struct, sys

key = bytes(range(32))
names = ["Nila", "Ärmel Öl", "a", "日本"]


def digest(what, text):
    return hmac.new(key, what.encode() + b"\0" + text.encode(), hashlib.sha256).digest()


def shift(name):
    d = digest("days", name)
    days = 1 + struct.unpack(">Q", d[:8])[0] % 182
    return -days if d[8] & 1 else days


times = [
    ("%d.%m.%Y %H:%M:%S", "03.04.2024 15:06:07"), ("%m/%d/%Y %I:%M %p", "4/3/2024 3:06 PM"), ("%m/%d/%y %I:%M %p", "4/3/24 12:06 AM"),
    ("%Y-%m-%dT%H:%M:%S%z", "2024-04-03T15:06:07+0230"), ("%d %b %Y", "3 Apr 2024"), ("%d %B %Y, %H:%M", "03 April 2024, 09:01"), ("%H:%M", "09:01"),
]


def iso(format, text):
    t = datetime.datetime.strptime(text, format)
    day, clock = "%Y" in format or "%y" in format, "%M" in format
    return (t if day and clock else t.date() if day else t.time()).isoformat()


rows = list(csv.reader(sys.stdin))
carry, side = rows[0].index("carry_yd"), rows[0].index("side_yd")
json.dump({
    "pseudonyms": {n: "pupil-" + base64.b32encode(digest("pupil", n)[:10]).decode().lower() for n in names},
    "shifts": {n: shift(n) for n in names},
    "moved": {n: (datetime.date(2024, 2, 28) + datetime.timedelta(days=shift(n))).isoformat() for n in names},
    "times": [{"format": f, "text": t, "iso": iso(f, t)} for f, t in times],
    "header": rows[0],
    "notes": [r[rows[0].index("note")] for r in rows[1:]],
    "bits": [[struct.pack(">d", float(r[c])).hex() for c in (carry, side)] for r in rows[1:]],
}, sys.stdout, indent=1, ensure_ascii=True)
print()
