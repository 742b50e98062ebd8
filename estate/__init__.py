"""The register of thermostatic mixing valves of one estate."""
