"""Who may do what: records of training, the matrix made of them, retraining, the yearly inspection."""
