"""What is worked out and drawn in processes beside the service."""
