"""The embedded PostgreSQL server: where it lives, how it is made, started and stopped."""
