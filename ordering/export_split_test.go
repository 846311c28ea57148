package ordering

// MovedWithin is a split that moves the least, looked for from a width of bands
// on, and over no more places than most.
func (l *Layout) MovedWithin(first, most int) ([]int, []string) {
	return l.newSplit().leastMoved(first, most)
}
