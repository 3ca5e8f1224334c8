"""Ends a forked process when its parent dies, so that no orphan works on beside its successor."""

from __future__ import annotations

import os
import threading
import time

LOOK_EVERY = 0.5


def end_with_parent() -> None:
    """Watch the parent from a thread and leave at once when it is gone.

    A death signal of the kernel would not do here: it follows the parent's forking *thread*,
    and pools fork replacements from threads that end before the pool does.
    """
    parent = os.getppid()

    def watch() -> None:
        while os.getppid() == parent:
            time.sleep(LOOK_EVERY)
        os._exit(1)

    threading.Thread(target=watch, name="parent-watch", daemon=True).start()
