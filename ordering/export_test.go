package ordering

// For benchmarks of what is otherwise worked out once and kept.

// DealRow works out the cards of the row anew.
func (l *Layout) DealRow() int { return len(l.newPlanned().cards) }

// DealBoxes works out the cards in the boxes as they stand anew.
func (l *Layout) DealBoxes() int { return len(l.newStood().cards) }
