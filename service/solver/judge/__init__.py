"""What serves one spot: its chains as rows of numbers, the rules held to them, and how fuel runs through."""
