package main

import (
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// unitsOf is the unit that the owner wants lengths printed in. JSON has
// millimetres always.
func unitsOf(c *model.Collection) string { return c.Shelf().Settings.Units }

// slotText says a slot in words, in the owner's unit.
func slotText(l *ordering.Layout, s ordering.Slot) string {
	const where = " from the front"
	return strings.Replace(s.Text(), s.FromFront.Whole()+where, s.FromFront.In(unitsOf(l.Collection()))+where, 1)
}
