"""The command line: each command parses, calls one library function and prints; no rule of the trade lives here."""
