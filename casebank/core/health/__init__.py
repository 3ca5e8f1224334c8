"""Whether the site is well: live, ready, and its numbers."""
