"""The reviewers' pages."""
