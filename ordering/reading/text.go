package reading

import (
	"fmt"
	"strings"

	"example.org/tuckrow/model"
)

// Text is the report of a stocktake, to be printed or kept: which boxes were
// counted and when, and what differs, kind by kind. Lines are as long as they are.
func (s *Stocktake) Text(c *model.Collection, on model.Date, matters []Matter) string {
	var b strings.Builder
	fmt.Fprintf(&b, "Stocktake, report of %s\n\n", on)
	for _, rep := range s.Boxes {
		counted := c.Counted(rep.Box.ID)
		if counted == "" {
			counted = "not recorded"
		}
		fmt.Fprintf(&b, "box %-12s counted %s   %d read, %d recorded\n", rep.Box.Name, counted, len(rep.Findings)-len(rep.Of(Gap)), len(c.Row(rep.Box.ID)))
	}
	for _, box := range s.Unread {
		last := "never counted"
		if on := c.Counted(box.ID); on != "" {
			last = "last counted " + string(on)
		}
		fmt.Fprintf(&b, "box %-12s not counted in this one, %s   %d recorded\n", box.Name, last, len(c.Row(box.ID)))
	}
	if len(matters) == 0 {
		b.WriteString("\nnothing differs, or all of it is settled\n")
		return b.String()
	}
	what := ""
	for _, m := range matters {
		if m.What != what {
			what = m.What
			fmt.Fprintf(&b, "\n%s: %d\n", what, Count(matters, what))
		}
		publisher, called := m.Name(c)
		fmt.Fprintf(&b, "[ ] %s\n      %s\n", strings.TrimSpace(publisher+"  "+called), m.About(c))
	}
	return b.String()
}
