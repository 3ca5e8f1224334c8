"""Background jobs: a row with owner, state and progress; the work runs in a worker."""
