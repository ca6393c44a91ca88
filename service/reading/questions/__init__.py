"""Reading a question as a customer says it: the fields of a request, what is to be asked, what was not read."""
