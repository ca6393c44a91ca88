"""See `service.client.schemas`."""

from service.client.schemas import *  # noqa: F403  all of it
