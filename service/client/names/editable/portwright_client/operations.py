"""See `service.client.operations`."""

from service.client.operations import *  # noqa: F403  all of it
