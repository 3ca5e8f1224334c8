"""The sounds of breathing and of the voice through the chest."""
