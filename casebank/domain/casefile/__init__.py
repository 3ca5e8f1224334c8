"""The authored case: its schema, its machine review, its canonical form and checksum."""
