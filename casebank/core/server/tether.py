"""Ties a child process to ours: when we die, even by kill -9, the kernel tells the child."""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Callable
from signal import Signals

PR_SET_PDEATHSIG = 1  # linux/prctl.h


def tethered(on_our_death: Signals) -> Callable[[], None] | None:
    """A ``preexec_fn`` that has the kernel send ``on_our_death``; None where there is none.

    It must run after the change of user, which clears the setting: ``subprocess`` does so.
    """
    if sys.platform != "linux":
        return None
    prctl = ctypes.CDLL(None, use_errno=True).prctl
    ours = os.getpid()

    def tie() -> None:
        prctl(PR_SET_PDEATHSIG, int(on_our_death), 0, 0, 0)
        if os.getppid() != ours:  # we died between the fork and the line above
            os._exit(1)

    return tie
