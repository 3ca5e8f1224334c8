"""The ways a job ends before its function returns."""

from __future__ import annotations


class JobCancelledError(Exception):
    """Its owner asked to stop; raised by ``Progress.percent``, let it pass."""


class JobLostError(Exception):
    """Another run has taken the job over (ours looked dead); raised by ``Progress.percent``."""


class JobFailedError(Exception):
    """Raise it in a job to fail with a sentence that the owner reads."""


class UnknownKindError(LookupError):
    """No function is registered for this kind of job."""
