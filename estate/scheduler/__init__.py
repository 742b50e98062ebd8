"""Working out when each valve must be tested next, and why."""
