"""Curves seen or felt rather than heard: pulse, venous column, electrocardiogram."""
