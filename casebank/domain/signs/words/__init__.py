"""Text alternatives: what is perceived, put in words, never its name."""
