"""The start: one step function of the controller, explored in every order of events and rehearsed in time."""
