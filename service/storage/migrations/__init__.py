"""The steps from one version of the tables to the next, run by `service.storage.migrate`."""
