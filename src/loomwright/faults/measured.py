"""A value of a document with its unit, as it is told."""

from loomwright.sentences import told

__all__ = ["measured"]


def measured(value: float, unit: str, spec: str = "g") -> str:
    """Return a value with its unit, such as '12.5 A', that a paper can say in another language.

    Parameters
    ----------
    value
        The value [unit].
    unit
        Of it, as the rooms write it: A, s, mm², rpm.
    spec
        Format of the number.
    """
    return told(f"{{value:{spec}}} {unit}", value=value)
