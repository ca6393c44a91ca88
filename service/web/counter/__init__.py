"""The pages of the counter: each route reads what a form sends, asks a use case, and shows the answer."""
