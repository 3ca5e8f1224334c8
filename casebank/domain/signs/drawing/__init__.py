"""Drawings as SVG text: a small writer, time traces and grids."""
