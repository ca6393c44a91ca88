"""The search: flows, counting, ranking, grouping, giving a bill again."""
