"""Published data sets that several tests reproduce."""

from __future__ import annotations

import numpy as np

# LSAT section 6 (Bock & Lieberman 1970): persons for each pattern 00000 ... 11111.
_COUNTS = "3 6 2 11 1 1 3 4 1 8 0 16 0 3 2 15 10 29 14 81 3 28 15 80 16 56 21 173 11 61 28 298"
_PATTERNS = [[int(bit) for bit in f"{i:05b}"] for i in range(32)]
LSAT6 = np.repeat(_PATTERNS, [int(count) for count in _COUNTS.split()], axis=0)

# Brennan 2001, synthetic data set 1: 10 persons x 12 items.
_ROWS = (
    "101000000000 111001000000 111110000000 110110010000 111110100000 "
    "111011100000 111111100000 111101111100 111111111110 111111111111"
)
BRENNAN = np.array([[int(mark) for mark in row] for row in _ROWS.split()])
