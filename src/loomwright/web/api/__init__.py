"""The HTTP interface: what other programs of the shop ask the workbench for, as JSON."""
