"""Names of the trade in French, by the English word of the documents."""

NAMES: dict[str, str] = {}
