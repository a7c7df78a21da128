"""Computes the sessions that main.go prints again: values, partial derivatives and
correlations by python3-uncertainties, distributions by python3-scipy. Each result has to
agree to nine digits."""
import json
import math
import sys
import numpy
from uncertainties import ufloat
from scipy import optimize, special, stats

P = math.erf(math.sqrt(2))
ROOT3 = math.sqrt(3)
NODES, WEIGHTS = numpy.polynomial.legendre.leggauss(20)
WIDE, DOMINANT, MOST = 0.08, 0.3, 4  # shape.go: what keeps its rectangular shape


def decade(x, largest):
    d = 0
    while 0 < abs(x) < largest / 10:
        x, d = 10 * x, d + 1
    return d


def scatter(values):
    """Mean of the means of the matings of one way up, its uncertainty and degrees of
    freedom, and the variance of one reading; values by way up and mating (GUM H.5)."""
    groups = values
    means = {k: sum(v) / len(v) for k, v in groups.items()}
    dof_in = sum(len(v) - 1 for v in groups.values())
    within = sum(sum((x - means[k]) ** 2 for x in v) for k, v in groups.items())
    within = within / dof_in if dof_in else 0
    between = dof_out = 0
    for way in {k[0] for k in groups}:
        own = [m for k, m in means.items() if k[0] == way]
        mean = sum(own) / len(own)
        between += sum((m - mean) ** 2 for m in own)
        dof_out += len(own) - 1
    between = between / dof_out if dof_out else 0
    inverse = sum(1 / len(v) for v in groups.values()) / len(groups)
    found = {}
    for way in {k[0] for k in groups}:
        own = [k for k in groups if k[0] == way]
        n, one = len(own), sum(1 / len(groups[k]) for k in own) / len(own) ** 2
        mean = sum(means[k] for k in own) / n
        if not dof_out:
            u, dof, pool = math.sqrt(within * one), dof_in, "within"
        elif not dof_in:
            u, dof, pool = math.sqrt(between / n), dof_out, "between"
        elif stats.f.sf(between / (within * inverse), dof_out, dof_in) > 0.5:
            both = (within * dof_in + between / inverse * dof_out) / (dof_in + dof_out)
            if both < within:
                u, dof, pool = math.sqrt(within * one), dof_in, "within"
            else:
                u, dof, pool = math.sqrt(both * one), dof_in + dof_out, "pooled"
        else:
            u, dof, pool = math.sqrt(between / n), dof_out, "between"
        found[way] = (mean, u, dof, pool)
    noise = (within, dof_in, "within") if dof_in else (between, dof_out, "between")
    return found, noise


def expanded(parts, boxes):
    """Half-width that holds P: parts are (u, dof) normal, boxes standard uncertainties."""
    u = math.sqrt(sum(p[0] ** 2 for p in parts) + sum(b * b for b in boxes))
    weight = sum((p / u) ** 4 / dof for p, dof in parts if dof < math.inf)
    dof = 1 / weight if weight else math.inf

    def t(nu):  # stats.t.ppf has eight digits here
        if nu > 1e6:
            return 2.0 + (8 + 2) / 4 / nu if nu < math.inf else 2.0
        return optimize.brentq(lambda x: special.betainc(nu / 2, 0.5, nu / (nu + x * x)) - (1 - P), 1, 100, xtol=1e-14, rtol=1e-14)

    wide = sorted((b for b in boxes if b >= WIDE * u), reverse=True)[:MOST]
    if not boxes or max(boxes) < DOMINANT * u:
        wide = []
    kept = sum(b * b for b in wide)
    sigma = math.sqrt(max(0, u * u - kept))
    halves = [b * ROOT3 for b in wide]

    if halves and sigma > 1e-9 * u:
        # F(x) = 1/2 + 1/pi * integral of sin(tx)/t * (characteristic function) over t > 0
        end = 8.8 / sigma
        for m in range(1, len(halves) + 1):
            end = min(end, (1e15 / math.prod(halves[:m])) ** (1 / m))
        pieces = int(end * (sum(halves) + 4 * u) / 6) + 1
        edges = numpy.linspace(0, end, pieces + 1)
        step = end / pieces / 2
        t_at = (edges[:-1, None] + step * (1 + NODES)).ravel()
        shape = numpy.exp(-(sigma * t_at) ** 2 / 2)
        for a in halves:
            shape = shape * numpy.sinc(a * t_at / math.pi)
        shape = shape / t_at * numpy.tile(WEIGHTS, pieces) * step / math.pi
        cdf = lambda x: 0.5 + float(numpy.dot(numpy.sin(t_at * x), shape))

    if not halves:
        x = 2 * u
    else:
        x = optimize.brentq(lambda x: cdf(-x) - (1 - P) / 2, 0.1 * u, 4 * u, xtol=1e-13 * u, rtol=1e-13)
    U = x * t(dof) / 2
    if not parts:
        U = min(U, sum(boxes) * ROOT3)
    floor = max([p * t(nu) for p, nu in parts if nu < 12], default=0)
    return u, dof, max(U, floor)


def session(s):
    volts, amps = s["Voltmeter"], s["Ammeter"]
    named = {}

    def box(*name):
        return named.setdefault(name, ufloat(0, 1 / ROOT3, str(name)))

    readings, nulls = s["Readings"], s["Nulls"] or []
    top = max(max(r["VBUS"], r["Ground"]) for r in readings + nulls)
    flips = sorted({r["Flip"] for r in readings})

    def volt(r, key, kind):
        v = r[key]
        way = r["Flip"] if kind == "reading" else None
        # An error follows the sign of the drop, as a gain does.
        error = ((volts["Reading"] * abs(v) + volts["Fixed"]) * box("voltmeter", decade(v, top))
                 + s["VoltDigit"] / 2 * box("digit", key, way, kind))
        return v + math.copysign(1, v) * error

    def amp(r, kind):
        i = r["Amp"]
        return i + (amps["Reading"] * i + amps["Fixed"]) * box("ammeter") + s["AmpDigit"] / 2 * box("amp digit", kind)

    def null(key, f=lambda x: x):
        if not nulls:
            return 0
        return sum(amp(r, "null") * volt(r, key, "null") for r in nulls) / sum(amp(r, "null") ** 2 for r in nulls)

    def way_of(key, flip):
        ms = sorted({r["Mating"] for r in readings if r["Flip"] == flip})
        total = 0
        for m in ms:
            own = [r for r in readings if r["Flip"] == flip and r["Mating"] == m]
            total += sum(volt(r, key, "reading") / amp(r, "reading") for r in own) / len(own)
        return total / len(ms) - null(key)

    def plain(keys):
        squares = sum(r["Amp"] ** 2 for r in nulls)
        fixture = sum(r["Amp"] * r[k] for r in nulls for k in keys) / squares if nulls else 0
        values = {}
        for r in readings:
            values.setdefault((r["Flip"], r["Mating"]), []).append(sum(r[k] for k in keys) / r["Amp"] - fixture)
        rest = [sum(r[k] for k in keys) - fixture * r["Amp"] for r in nulls]
        return values, rest, squares

    for want in s["Results"]:
        keys = {"vbus": ["VBUS"], "ground": ["Ground"], "loop": ["VBUS", "Ground"]}[want["Conductor"]]
        got = sum(way_of(k, want["Flip"]) for k in keys)
        boxes = [abs(e) for e in got.error_components().values() if e]
        values, rest, squares = plain(keys)
        found, (variance, noise_dof, noise_pool) = scatter(values)
        _, u, dof, pool = found[want["Flip"]]
        parts = [(u, dof)]
        if len(rest) > 1:
            parts.append((math.sqrt(sum(x * x for x in rest) / (len(rest) - 1) / squares), len(rest) - 1))
        elif rest:
            own = math.sqrt(variance * nulls[0]["Amp"] ** 2 / squares)
            if noise_pool == pool:
                parts = [(math.hypot(u, own), dof)]
            else:
                parts.append((own, noise_dof))
        u, dof, U = expanded(parts, boxes)
        yield want, {"Ohm": got.nominal_value, "U": u, "DoF": dof, "Expand": U}


checked = bad = 0
for line in sys.stdin:
    s = json.loads(line)
    for want, got in session(s):
        for name, value in got.items():
            checked += 1
            if not abs(value - want[name]) <= 1e-9 * abs(value):
                bad += 1
                if bad <= 20:
                    print(f"{want['Conductor']} flip {want['Flip']} {name}: {want[name]:.12g}, by the second route {value:.12g}", f"({len(s['Readings'])} readings, {len(s['Nulls'] or [])} nulls)")
print(f"{checked} values agree to nine digits" if checked and not bad else f"{bad} of {checked} values differ")
sys.exit(0 if checked and not bad else 1)
