"""Every sentence of the papers, one catalogue per language."""
