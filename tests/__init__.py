"""The tests, in folders that mirror the package; checks against outside sources stand in `reference`."""
