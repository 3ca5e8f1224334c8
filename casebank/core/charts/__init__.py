"""Layout of the drawings that pages show: numbers in, places in a picture out.

Owns geometry only; the templates in ``templates/_components`` turn it into SVG, and no rule of the
trade lives here.
"""
