"""Runs a whole site on one machine: server, web, worker and beat as children."""
