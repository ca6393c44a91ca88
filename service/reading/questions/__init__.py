"""Reading a question as a customer says it: which fields of a request are meant, what is to be asked, what was not read."""
