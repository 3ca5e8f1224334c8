"""Measured commands: ratios within one run, because seconds differ from machine to machine."""
