"""The rules of Casebank as pure code: no Django, no clock, no files, no unseeded randomness."""
