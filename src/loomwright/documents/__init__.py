"""What people write: vehicles, kits, the shop, evidence and jobs; loading them and resolving one car."""
