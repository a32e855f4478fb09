"""One sitting at the car: a survey, its file, the prompt in front. Every face drives this room."""
