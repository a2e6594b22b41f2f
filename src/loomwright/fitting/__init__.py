"""Which kit for which car: the order check, and what holds for many cars and kits at once."""
