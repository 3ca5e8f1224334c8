"""One student at one bed: what a request reveals, what it costs, and replay of the log."""
