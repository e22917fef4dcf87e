"""The cutter's drawing: contours that a machine follows, nested on the leather, moved out by the kerf."""
