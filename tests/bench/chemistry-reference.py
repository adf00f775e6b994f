"""The reference side of the chemistry benchmark: reads columns as float64, prints evaluations a second of processor time
and checksums as JSON.

Salinity is GSW-Python's own. It has neither ammonia nor a carbonate system: those are the same published equations in NumPy (Clegg &
Whitfield 1995; Lueker et al. 2000, Dickson 1990, Weiss 1974, Mucci 1983), value by value with floats and over whole arrays.
"""
import json
import sys
import time

import gsw
import numpy as np

ROUNDS = 15


def ammonia(m, tan, ph, t, s):
    T = t + 273.15
    root_t = m.sqrt(T)
    root_s = m.sqrt(s)
    pk = (
        9.244605 - 2729.33 * (1 / 298.15 - 1 / T)
        + (0.04203362 - 11.24742 / T) * m.sqrt(root_s)
        + (-13.6416 + 1.176949 * root_t - 0.02860785 * T + 545.4834 / T) * root_s
        + (-0.1462507 + 0.0090226468 * root_t - 0.0001471361 * T + 10.5425 / T) * s * root_s
        + (0.004669309 - 0.0001691742 * root_t - 0.5677934 / T) * s * s
        + (-2.354039e-5 + 0.009698623 / T) * s * s * root_s
        - m.log10(1 - 0.001005 * s)
    )
    return tan / (1 + 10 ** (pk - ph))


def density(s, t, m):
    T = 1.00024 * t
    pure = 999.842594 + T * (6.793952e-2 + T * (-9.09529e-3 + T * (1.001685e-4 + T * (-1.120083e-6 + T * 6.536332e-9))))
    linear = 0.824493 + T * (-4.0899e-3 + T * (7.6438e-5 + T * (-8.2467e-7 + T * 5.3875e-9)))
    root = -5.72466e-3 + T * (1.0227e-4 - T * 1.6546e-6)
    return pure + s * linear + s * m.sqrt(s) * root + 4.8314e-4 * s * s


def carbonate(m, ph, alkalinity, t, s):
    T = t + 273.15
    ln_t, r, th = m.log(T), m.sqrt(s), (t + 273.15) / 100
    I = 19.924 * s / (1000 - 1.005 * s)
    root = m.sqrt(I)
    st, ft, bt = 0.14 / 96.062 * s / 1.80655, 0.000067 / 18.998 * s / 1.80655, 0.0004157 * s / 35
    ks = m.exp(
        -4276.1 / T + 141.328 - 23.093 * ln_t + (-13856 / T + 324.57 - 47.986 * ln_t) * root
        + (35474 / T - 771.54 + 114.723 * ln_t) * I - 2698 / T * I * root + 1776 / T * I * I + m.log(1 - 0.001005 * s)
    )
    kf = m.exp(1590.2 / T - 12.641 + 1.525 * root + m.log(1 - 0.001005 * s))
    f2t = 1 + st / ks
    f2s = f2t + ft / kf
    k0 = m.exp(-60.2409 + 93.4517 / th + 23.3585 * m.log(th) + s * (0.023517 + th * (-0.023656 + th * 0.0047036)))
    k1 = 10 ** -(3633.86 / T - 61.2172 + 9.6777 * ln_t - 0.011555 * s + 0.0001152 * s * s)
    k2 = 10 ** -(471.78 / T + 25.929 - 3.16967 * ln_t - 0.01781 * s + 0.0001122 * s * s)
    kb = m.exp(
        (-8966.9 - 2890.53 * r - 77.942 * s + 1.728 * s * r - 0.0996 * s * s) / T + 148.0248 + 137.1942 * r + 1.62142 * s
        + (-24.4344 - 25.085 * r - 0.2474 * s) * ln_t + 0.053105 * r * T
    )
    kw = m.exp(
        148.9802 - 13847.26 / T - 23.6521 * ln_t + (-5.977 + 118.67 / T + 1.0495 * ln_t) * r - 0.01615 * s
    ) * f2t / f2s
    kara = 10 ** (
        -171.945 - 0.077993 * T + 2903.293 / T + 71.595 * m.log10(T)
        + (-0.068393 + 0.0017276 * T + 88.135 / T) * r - 0.10018 * s + 0.0059415 * s * r
    )
    g = m.exp(
        ((-1636.75 + 12.0408 * T - 0.0327957 * T * T + 3.16528e-5 * T ** 3) + 2 * (57.7 - 0.118 * T)) * 1.01325 / (83.1451 * T)
    )
    h = 10 ** -ph
    free = h / f2t
    ta = alkalinity / density(s, t, m)
    minor = bt * kb / (kb + h) + kw / h - free - st / (1 + ks / free) - ft / (1 + kf / free)
    den = h * h + k1 * h + k1 * k2
    dic = (ta - minor) * den / (k1 * h + 2 * k1 * k2)
    co3 = dic * k1 * k2 / den
    calcium = 0.02128 / 40.087 * s / 1.80655
    return dic * h * h / den / k0 / g * 1e6, calcium * co3 / kara


def best(body):
    times = []
    for _ in range(ROUNDS):
        began = time.process_time()
        result = body()
        times.append(time.process_time() - began)
    return sorted(times)[ROUNDS // 2], result


def main():
    import math

    path, rows, few = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
    c, t, p, s, tan, ph, alkalinity = np.fromfile(path, dtype="<f8").reshape(7, rows)
    lists = {name: column[:few].tolist() for name, column in zip("ctpsnha", (c, t, p, s, tan, ph, alkalinity))}
    out = {"version": gsw.__version__}

    took, found = best(lambda: gsw.SP_from_C(c, t, p))
    single, _ = best(lambda: [gsw.SP_from_C(x, y, z) for x, y, z in zip(lists["c"], lists["t"], lists["p"])])
    out["salinity"] = {"column": rows / took, "single": few / single, "sum": float(found.sum())}

    took, found = best(lambda: ammonia(np, tan, ph, t, s))
    single, _ = best(lambda: [ammonia(math, *row) for row in zip(lists["n"], lists["h"], lists["t"], lists["s"])])
    out["ammonia"] = {"column": rows / took, "single": few / single, "sum": float(found.sum())}

    took, (pco2, aragonite) = best(lambda: carbonate(np, ph, alkalinity, t, s))
    single, _ = best(lambda: [carbonate(math, *row) for row in zip(lists["h"], lists["a"], lists["t"], lists["s"])])
    out["carbonate"] = {"column": rows / took, "single": few / single, "sum": float(pco2.sum() + aragonite.sum())}
    print(json.dumps(out))


main()
