"""The editor's pages: each shows a part of a raw draft as a form and puts what was typed back."""
