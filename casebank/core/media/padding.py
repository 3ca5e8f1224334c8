"""Pads files to coarse sizes, so that a size tells nothing of what is inside."""

from __future__ import annotations

MARKER = b"fLaC"
HEADER = 4
LAST, PADDING = 0x80, 0x01
MOST = 0xFFFFFF


def padded_flac(data: bytes, step: int) -> bytes:
    """A FLAC file made as long as the next multiple of ``step`` by a PADDING block (RFC 9639, 8.3).

    ValueError where the bytes are not FLAC.
    """
    if data[:4] != MARKER:
        raise ValueError("only FLAC files are padded so; these bytes do not begin with fLaC.")
    at, header = 4, data[4]
    while not header & LAST:  # walk the metadata to its last block
        at += HEADER + int.from_bytes(data[at + 1 : at + HEADER], "big")
        header = data[at]
    end = at + HEADER + int.from_bytes(data[at + 1 : at + HEADER], "big")
    short = -(len(data) + HEADER) % step
    if short > MOST:
        raise ValueError(f"a step of {step} is too long for one block; choose under {MOST}.")
    block = bytes([LAST | PADDING]) + short.to_bytes(3, "big") + bytes(short)
    return data[:at] + bytes([header & ~LAST]) + data[at + 1 : end] + block + data[end:]


def padded_text(data: bytes, step: int) -> bytes:
    """Text (SVG, XML) made as long as the next multiple of ``step`` by spaces at its end."""
    return data + b" " * (-len(data) % step)
