"""The pages of the register: vessels, what happened to them, and who fishes on them."""
