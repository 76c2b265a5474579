#!/usr/bin/env python3
"""Times the Touchstone reader beside scikit-rf's on the same files, in one run.

Needs Debian's python3-scikit-rf and compiled tests (mvn test-compile). Run from the top level:

    /usr/bin/python3 src/test/scripts/touchstone_against_scikit_rf.py
"""
import os
import subprocess
import tempfile
import time

import numpy
import skrf

CLASSES = "target/test-classes:target/classes"
READER = "org.equiphase.benchmark.ReadTouchstone"


def write(path, points):
    """A lossy line of 10 ns as a two-port in real and imaginary parts, nine digits each."""
    with open(path, "w") as file:
        file.write("# GHz S RI R 50\n")
        for i in range(points):
            hertz = 2e9 + 1e5 * i
            through = 0.9 * numpy.exp(-2j * numpy.pi * hertz * 10e-9)
            back = 0.03 * numpy.exp(1j * i)
            values = []
            for s in (back, through, through, back):
                values += ["%.9g" % s.real, "%.9g" % s.imag]
            file.write("%.9g %s\n" % (hertz / 1e9, " ".join(values)))


def scikit_rf_micros(path):
    skrf.Network(path)
    start = time.perf_counter()
    count = 0
    while count < 3 or time.perf_counter() - start < 3:
        skrf.Network(path)
        count += 1
    return (time.perf_counter() - start) * 1e6 / count


def main():
    print("scikit-rf", skrf.__version__, "numpy", numpy.__version__)
    print("points  scikit-rf/us  ours/us  ratio")
    with tempfile.TemporaryDirectory() as folder:
        for points in (201, 20001):
            path = os.path.join(folder, "line%d.s2p" % points)
            write(path, points)
            theirs = scikit_rf_micros(path)
            ours = float(subprocess.check_output(["java", "-cp", CLASSES, READER, path]))
            print("%6d %13.0f %8.0f %6.0f" % (points, theirs, ours, theirs / ours))


if __name__ == "__main__":
    main()
