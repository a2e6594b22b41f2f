"""From a car and a kit to one installation: routes, interface parts, and why each was chosen."""
