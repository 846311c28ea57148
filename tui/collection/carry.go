package collection

import (
	"fmt"
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/moving"
)

// carryRows lists what there is to carry in a move.
func (s *Screen) carryRows(x *seen) (out []row) {
	end := func(p *model.Pattern) string {
		if p == nil {
			return ""
		}
		return x.c.Publisher(p.Publisher).Name + " " + p.Short()
	}
	for i, l := range x.move.Loads {
		name, length := string(l.Kind), ""
		if l.Name != "" {
			name += " " + l.Name
		}
		if l.Length > 0 {
			length = s.theme.Length(l.Length)
		}
		weighs := moving.Kilograms(l.Low, l.High)
		about := []string{moving.Caution(0)}
		if l.Heavy() {
			about = append(about, name+" may weigh more than one should lift alone: split it up, in order")
		}
		if l.From != nil {
			about = append(about, name+": "+end(l.From)+" to "+end(l.To))
		}
		about = append(about, fmt.Sprintf("%s: packed as number %d, unpacked as number %d, so that each box stands at its place at once (common practice, no source)", name, x.move.Packed(i), x.move.Unpacked(i)), moving.PackCaution)
		out = append(out, row{cols: []string{name, strconv.Itoa(x.move.Packed(i)), strconv.Itoa(x.move.Unpacked(i)), strconv.Itoa(l.Items), length, weighs}, about: about})
	}
	if len(out) > 0 {
		all := fmt.Sprintf("%s %s in all without the binders: an estimate by thickness, so weigh one box before you rely on it", words.Count(x.move.Copies, "copy weighs", "copies weigh"), moving.Kilograms(x.move.Low, x.move.High))
		out = append(out, row{cols: []string{"in all", "", "", strconv.Itoa(x.move.Copies), "", moving.Kilograms(x.move.Low, x.move.High)},
			about: []string{moving.Caution(0), all, moving.PackCaution, "Print has the list as a sheet to tick"}})
	}
	return out
}

// apart is what lies in a box for what is oversize.
type apart struct {
	box, title, dummy, find string
}

func apartOf(l *ordering.Layout) (out []apart) {
	c := l.Collection()
	for _, h := range l.Oversize() {
		name := "a new box"
		if !h.New {
			name = "box " + h.Box.Name
		}
		for _, x := range h.Things {
			for _, a := range x.Copies {
				p := c.PatternOf(a)
				dummy := "dummy waits to be filed"
				if s := l.Slot(a); s.Box.ID != 0 {
					dummy = fmt.Sprintf("dummy box %s, place %d", s.Box.Name, s.Position)
				}
				out = append(out, apart{name, c.Called(p.ID), dummy, c.Publisher(p.Publisher).Name + " " + p.Short()})
			}
		}
	}
	return out
}

// hookRows lists the hooks, row by row, free ones too, then what lies apart.
func hookRows(x *seen) (out []row) {
	last := model.HookRowID(0)
	for i := range x.hooks {
		h := &x.hooks[i]
		heading := ""
		if i == 0 || h.Row.ID != last || h.New && !x.hooks[i-1].New {
			heading, last = rowHeading(x.hooks, i), h.Row.ID
		}
		if len(h.Items) == 0 {
			out = append(out, row{heading: heading, cols: []string{h.Name(), "free"}, about: []string{fmt.Sprintf("%s is free: room for %d", h.Name(), h.Row.Each)}})
		}
		for j, it := range h.Items {
			cp := x.c.Copy(it.Copy)
			hangs, called := h.Note(x.c.HookText(cp.Hook)), x.c.Called(cp.Pattern)
			if j > 0 {
				heading = ""
			}
			about := []string{called + ": hangs on " + h.Name()}
			if hangs != "" {
				about[0] = called + ": would hang on " + h.Name() + " if all hung in order"
			}
			for _, said := range []string{hangs, string(cp.Medium), cp.PrintText()} {
				if said != "" {
					about = append(about, said)
				}
			}
			if hangs == "" {
				hangs = "there"
			}
			out = append(out, row{heading: heading, cols: []string{h.Name() + "  " + called, hangs}, about: about, find: x.c.Publisher(it.Pattern.Publisher).Name + " " + it.Pattern.Short()})
		}
	}
	for i, a := range x.apart {
		r := row{cols: []string{a.title, a.dummy}, find: a.find, about: []string{a.title + " lies in " + a.box + ", being oversize", a.dummy}}
		if i == 0 || x.apart[i-1].box != a.box {
			r.heading = a.box + ", for what is oversize; a dummy stands in its place for each"
		}
		out = append(out, r)
	}
	return out
}

// rowHeading says of a row of hooks how much room is left on it.
func rowHeading(hooks []ordering.HookHolding, from int) string {
	h, n, free := &hooks[from], 0, 0
	for _, x := range hooks[from:] {
		if x.Row.ID != h.Row.ID || x.New != h.New {
			break
		}
		if n++; len(x.Items) == 0 {
			free++
		}
	}
	if h.New {
		return fmt.Sprintf("hooks to be got: %d", n)
	}
	return fmt.Sprintf("%s: %s for %d each, %d free", h.Row.Name, words.Count(n, "hook", "hooks"), h.Row.Each, free)
}
