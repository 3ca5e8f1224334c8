"""Parametric pictures of what is seen: drawn, so that no person is shown."""
