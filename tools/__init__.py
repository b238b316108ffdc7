"""What writes the generated pages of the documentation; no part of the installed program."""
