"""The rules of the case check, a file for each part of a case document."""
