"""What the tests share: small catalogs, builders and slow, obvious checkers."""
