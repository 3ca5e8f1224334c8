"""A small load generator: keep-alive connections on loopback, bounded in count and time."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable
from dataclasses import dataclass

Say = Callable[[int, int], bytes]
"""Connection and turn to the whole HTTP request to send."""


@dataclass(frozen=True)
class Load:
    """What a run measured: requests a second and latencies in milliseconds."""

    rate: float
    median: float
    p95: float
    errors: int
    size: int


def run(port: int, say: Say, connections: int, seconds: float) -> Load:
    """Send from every connection, one request after another, for this long."""
    return asyncio.run(_run(port, say, connections, seconds))


async def _run(port: int, say: Say, connections: int, seconds: float) -> Load:
    until = time.perf_counter() + seconds
    start = time.perf_counter()
    found = await asyncio.gather(*(_one(port, say, n, until) for n in range(connections)))
    spent = time.perf_counter() - start
    times = sorted(ms for one in found for ms in one[0])
    return Load(
        rate=len(times) / spent,
        median=times[len(times) // 2],
        p95=times[int(0.95 * len(times))],
        errors=sum(one[1] for one in found),
        size=found[0][2],
    )


async def _one(port: int, say: Say, number: int, until: float) -> tuple[list[float], int, int]:
    reader, writer = await asyncio.open_connection("127.0.0.1", port)
    times, errors, turn, size = [], 0, 0, 0
    while time.perf_counter() < until:
        start = time.perf_counter()
        writer.write(say(number, turn))
        status, size, is_open = await _answer(reader)
        times.append(1000 * (time.perf_counter() - start))
        errors += status != 200
        turn += 1
        if not is_open:
            writer.close()
            reader, writer = await asyncio.open_connection("127.0.0.1", port)
    writer.close()
    return times, errors, size


async def _answer(reader: asyncio.StreamReader) -> tuple[int, int, bool]:
    head = (await reader.readuntil(b"\r\n\r\n")).decode("latin-1")
    lines = head.split("\r\n")
    fields = {k.lower(): v.strip() for k, v in (f.split(":", 1) for f in lines[1:] if ":" in f)}
    if fields.get("transfer-encoding") == "chunked":
        size = await _chunks(reader)
    else:
        size = len(await reader.readexactly(int(fields.get("content-length", 0))))
    return int(lines[0].split()[1]), size, fields.get("connection", "").lower() != "close"


async def _chunks(reader: asyncio.StreamReader) -> int:
    size = 0
    while length := int((await reader.readline()).strip(), 16):
        size += len(await reader.readexactly(length))
        await reader.readexactly(2)
    await reader.readexactly(2)
    return size
