"""The sounds of the heart: components, murmurs, how they reach the stethoscope."""
