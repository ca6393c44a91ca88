"""One module a step. A step that was released is never changed; a new one follows it."""
