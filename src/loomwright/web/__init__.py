"""The workbench: pages over a store, served from this machine. No rule of the trade, no SQL and no sum lives here."""
