#!/usr/bin/env python3
"""Derives surface-climatology.bin.gz from the climatologies in the Debian package ferret-datasets.

    apt-get download ferret-datasets && dpkg-deb -x ferret-datasets_*.deb FOLDER
    python3 lib/climate/derive.py FOLDER/usr/share/ferret-vis/data

Needs numpy and scipy. The table is committed, so neither running Homewater nor its tests need this script. Layout: see README.md.
"""
import gzip
import json
import struct
import sys
from pathlib import Path

import numpy as np
from scipy.io import netcdf_file

MISSING = -32768
# Surface first; the deeper levels answer for animals that live below the warm layer.
DEPTHS = [0, 20, 50, 100, 200]


def variable(file, name):
    """Values as float64 with NaN where the file says missing."""
    found = file.variables[name]
    values = np.array(found.data, dtype=np.float64)
    values[values == np.float64(np.float32(found.missing_value))] = np.nan
    return values


def axis(file, name):
    return np.array(file.variables[name].data, dtype=np.float64)


def hundredths(values):
    whole = np.where(np.isfinite(values), np.rint(values * 100), MISSING)
    assert whole.max() < 32768 and whole.min() >= MISSING
    return whole.astype("<i2")


def grid(values, longitudes, latitudes):
    """Columns turned so that the first lies just east of 180 degrees; gives the values and the centres' description."""
    east = (longitudes + 180) % 360 - 180
    order = np.argsort(east)
    east = east[order]
    steps = {round(float(step), 6) for step in np.diff(east)} | {round(float(step), 6) for step in np.diff(latitudes)}
    assert len(steps) == 1, steps
    about = {
        "west": float(east[0]),
        "south": float(latitudes[0]),
        "step": steps.pop(),
        "columns": len(east),
        "rows": len(latitudes),
    }
    return values[..., order], about


def main(folder):
    open_file = lambda name: netcdf_file(str(Path(folder) / name), mmap=False)
    layers = []

    coads = open_file("coads_climatology.cdf")
    sst, about = grid(variable(coads, "SST"), axis(coads, "COADSX"), axis(coads, "COADSY"))
    layers.append(({"name": "coads", "quantity": "temperature", "unit": "Cel", "depth": 0, "months": 12, **about}, sst))

    atlas = open_file("ocean_atlas_subset.nc")
    levels = list(axis(atlas, "ZAXLEVIT19"))
    temperature = variable(atlas, "TEMP")
    for depth in DEPTHS:
        at_depth, about = grid(
            temperature[:, levels.index(depth)], axis(atlas, "XAX_SUBSET"), axis(atlas, "YAX_SUBSET")
        )
        layers.append(
            ({"name": "atlas", "quantity": "temperature", "unit": "Cel", "depth": depth, "months": 12, **about}, at_depth)
        )

    levitus = open_file("levitus_climatology.cdf")
    assert axis(levitus, "ZAXLEVITR")[0] == 0
    salt, about = grid(variable(levitus, "SALT")[:1], axis(levitus, "XAXLEVITR"), axis(levitus, "YAXLEVITR"))
    layers.append(({"name": "levitus", "quantity": "salinity", "unit": "1", "depth": 0, "months": 1, **about}, salt))

    head = json.dumps({"version": 1, "missing": MISSING, "scale": 100, "layers": [about for about, _ in layers]})
    # Padded so that the numbers begin at an even offset, as a 16-bit view needs.
    head = head.encode() + b" " * (-len(head) % 4)
    body = b"".join(hundredths(values).tobytes() for _, values in layers)
    whole = b"HWNW" + struct.pack("<I", len(head)) + head + body
    target = Path(__file__).with_name("surface-climatology.bin.gz")
    # No time and no name in the gzip header: the same data give the same file.
    with open(target, "wb") as out, gzip.GzipFile(filename="", mode="wb", fileobj=out, compresslevel=9, mtime=0) as packed:
        packed.write(whole)
    print(f"{target.name}: {target.stat().st_size} bytes, {len(whole)} unpacked, {len(layers)} layers")


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(sys.argv[1])
