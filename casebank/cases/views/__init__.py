"""The authors' pages."""
