package exchange

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/clean"
)

// boxLength is what a box gets that only a CSV names (common practice, no
// source).
const boxLength = 380 * model.Millimetre

// hookEach is how many patterns a hook gets that only a CSV names (common
// practice, no source).
const hookEach = 3

// hookMissing tells what is wrong with a hook that cannot be hung on, nor be
// added to the shelf.
func hookMissing(c *model.Collection, text string) *model.FieldError {
	if text == "" {
		return nil
	}
	name, n, ok := splitHook(text)
	row, known := c.Shelf().HookRowNamed(name)
	switch {
	case !ok:
		return &model.FieldError{Field: "hook", Value: text, Problem: fmt.Sprintf("is not a row and a hook from 1 to %d", model.MostHooks), Hint: "write them like \"door 3\""}
	case known && n > row.Hooks:
		return &model.FieldError{Field: "hook", Value: text, Problem: "is not on that row", Hint: fmt.Sprintf("it has hooks 1 to %d", row.Hooks)}
	}
	return nil
}

// unhung lists the hooks that would cost their row, so that cleaning can propose
// what to do about them: those that cannot be hung on, and those of rows that name a
// box too.
func (im *Import) unhung(c *model.Collection) (out []clean.Unread) {
	heading := "hook"
	if i := slices.Index(im.Columns, "hook"); i >= 0 {
		heading = im.Header[i]
	}
	for i := range im.Entries {
		en := &im.Entries[i]
		why := hookMissing(c, en.Hook)
		if why == nil && en.Box != "" && en.Hook != "" {
			why = model.TwoPlaces(en.Hook)
		}
		if why != nil {
			out = append(out, clean.Unread{Row: i, Field: "hook", Heading: heading, Text: en.Hook, Err: why})
		}
	}
	return out
}

// furnish lists the boxes and rows of hooks that entries name and the shelf
// lacks. Names that differ by case alone are one, as they are to the shelf.
func (im *Import) furnish(c *model.Collection, p *Planned) {
	boxes := map[string]bool{} // as they are written; there are few
	for i := range p.Change.Entries {
		en := &p.Change.Entries[i]
		if name := en.Box; name != "" && !boxes[name] {
			boxes[name] = true
			p.addBox(c, name)
		}
		if name, n, ok := splitHook(en.Hook); ok {
			p.addHook(c, name, n)
		}
	}
	slices.SortStableFunc(p.Change.Boxes, func(a, b model.BoxSpec) int { return byNumber(a.Name, b.Name) })
	for _, b := range p.Change.Boxes {
		p.NewName = append(p.NewName, "box "+b.Name)
	}
	for _, h := range p.Change.Hooks {
		p.NewName = append(p.NewName, "hooks "+h.Name)
	}
}

func (p *Planned) addBox(c *model.Collection, name string) {
	if _, err := c.Shelf().BoxNamed(name); err == nil {
		return
	}
	if !slices.ContainsFunc(p.Change.Boxes, func(b model.BoxSpec) bool { return strings.EqualFold(b.Name, name) }) {
		p.Change.Boxes = append(p.Change.Boxes, model.BoxSpec{Name: name, Length: boxLength})
	}
}

func (p *Planned) addHook(c *model.Collection, name string, n int) {
	if _, known := c.Shelf().HookRowNamed(name); known {
		return
	}
	i := slices.IndexFunc(p.Change.Hooks, func(h model.HookSpec) bool { return strings.EqualFold(h.Name, name) })
	if i < 0 {
		i = len(p.Change.Hooks)
		p.Change.Hooks = append(p.Change.Hooks, model.HookSpec{Name: name, Each: hookEach})
	}
	p.Change.Hooks[i].Hooks = max(p.Change.Hooks[i].Hooks, n)
}

// byNumber puts boxes named by numbers in the order of the numbers, the others
// behind them as they came.
func byNumber(a, b string) int {
	x, errX := strconv.Atoi(a)
	y, errY := strconv.Atoi(b)
	switch {
	case errX == nil && errY == nil:
		return cmp.Compare(x, y)
	case errX == nil:
		return -1
	case errY == nil:
		return 1
	}
	return 0
}

func splitHook(text string) (string, int, bool) {
	i := strings.LastIndexByte(text, ' ')
	if i <= 0 {
		return "", 0, false
	}
	n, err := strconv.Atoi(text[i+1:])
	return text[:i], n, err == nil && n > 0 && n <= model.MostHooks
}
