"""Why a request has no bill: which wishes conflict, and what change of them helps."""
