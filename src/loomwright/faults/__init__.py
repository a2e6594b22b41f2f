"""Faults as edits of the joined circuit: what each would make a meter read, and what it would do."""
