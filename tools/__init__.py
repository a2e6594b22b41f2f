"""Scripts that make files of this repository from its own code: the reference pages and the pictures."""
