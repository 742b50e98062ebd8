"""The register on disk: schema, records, transactions, upgrades."""
