"""The beats of a loop: one table of times that every kind of sign reads."""
