"""Invented people and an invented year, for trying the site."""
