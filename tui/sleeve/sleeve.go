// Package sleeve says all that is known of a pattern, as one reads it off the
// sleeve and out of the notebook beside it: sizes, cloth, pieces, whom it fits,
// which cloth is enough, what was made of it, and where its envelopes are.
//
// The usual way in is [Of], then [Sleeve.Lines] at some width.
//
// Promised: what is most often looked for comes first, so that what is cut off
// below is needed less; no line is wider than told; nothing is told by a style
// alone.
package sleeve

import (
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/cloth"
	"example.org/tuckrow/model/fit"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/theme"
)

// Sleeve is a pattern with what is known of it.
type Sleeve struct {
	head  []string
	facts []fact
}

// fact is something known: what it is about, and texts that say it, in full and
// in short.
type fact struct {
	about       string
	full, short []string
}

// Of collects what is known of a pattern and of these copies of it. Something
// that the room has to say of it comes first: what it is about, and the text;
// both are empty where it has nothing.
func Of(c *model.Collection, p *model.Pattern, copies []model.Accession, t *theme.Theme, first, says string) *Sleeve {
	dot := " " + t.Glyphs.Dot + " "
	s := &Sleeve{head: []string{c.Publisher(p.Publisher).Name, p.Heading()}}
	if about := join(dot, p.SizeRange, dated(p)); about != "" {
		s.head = append(s.head, about)
	}
	set := c.Shelf().Settings
	s.add(first, says)
	s.add("envelope", envelopes(c, copies, dot)...)
	s.addMade(made(c, p), dot)
	s.add("to sew", queued(c, p, dot))
	s.addBoth("fits", fits(c, p, copies, dot))
	s.addBoth("cloth", enough(c, p, dot))
	s.add("see also", Links(c, p)...)
	s.add("also in", also(c, p))
	s.add("bodies", bodies(p, set, dot)...)
	s.add("needs", needs(p, set, dot)...)
	s.add("pieces", strings.Join(p.Pieces, ", "))
	s.add("tags", strings.Join(p.Tags, ", "))
	for _, a := range copies {
		s.add("notes", c.Copy(a).Notes)
	}
	return s
}

// add notes what there is of something.
func (s *Sleeve) add(about string, texts ...string) {
	if texts = slices.DeleteFunc(texts, func(x string) bool { return x == "" }); len(texts) > 0 {
		s.facts = append(s.facts, fact{about, texts, texts})
	}
}

// said is something said in full and in short.
type said struct{ full, short string }

func (s *Sleeve) addBoth(about string, list []said) {
	f := fact{about: about}
	for _, x := range list {
		f.full, f.short = append(f.full, x.full), append(f.short, x.short)
	}
	if len(list) > 0 {
		s.facts = append(s.facts, f)
	}
}

// beside is the width from which what a fact is about has a column of its own.
const (
	beside = 30
	about  = 10
)

// Short draws it in lines of at most w cells, without what answers rest on.
func (s *Sleeve) Short(t *theme.Theme, w int) []string {
	return s.lines(t, w, func(f fact) []string { return f.short })
}

// Lines draws all of it in lines of at most w cells.
func (s *Sleeve) Lines(t *theme.Theme, w int) []string {
	return s.lines(t, w, func(f fact) []string { return f.full })
}

func (s *Sleeve) lines(t *theme.Theme, w int, texts func(fact) []string) []string {
	var lines []string
	for i, h := range s.head {
		style := t.Plain
		if i == 1 {
			style = t.Strong
		}
		for _, l := range cells.Wrap(h, w) {
			lines = append(lines, style.Render(l))
		}
	}
	column := about
	if w < beside {
		column = 2
	}
	for _, f := range s.facts {
		label := t.Quiet.Render(cells.Fit(f.about, column))
		if column < about {
			lines = append(lines, t.Quiet.Render(cells.Cut(f.about, w)))
			label = strings.Repeat(" ", column)
		}
		for _, text := range texts(f) {
			for _, l := range cells.Wrap(text, max(1, w-column)) {
				lines = append(lines, label+t.Plain.Render(l))
				label = strings.Repeat(" ", column)
			}
		}
	}
	return lines
}

func join(between string, texts ...string) string {
	return strings.Join(slices.DeleteFunc(texts, func(x string) bool { return x == "" }), between)
}

func dated(p *model.Pattern) string {
	switch {
	case p.Year == 0:
		return ""
	case p.DatedBy == "":
		return fmt.Sprint(p.Year)
	}
	return fmt.Sprintf("%d by %s", p.Year, p.DatedBy)
}

var cutTexts = map[model.Cut]string{model.Uncut: "uncut", model.PartlyCut: "partly cut", model.FullyCut: "cut"}

// envelopes says of each copy where it is and in what state.
func envelopes(c *model.Collection, copies []model.Accession, dot string) []string {
	var out []string
	for _, a := range copies {
		cp := c.Copy(a)
		left, complete := "", ""
		if cp.Left != "" {
			left = cp.Left + " left"
		}
		switch {
		case strings.EqualFold(cp.Complete, "yes"):
			complete = "complete"
		case cp.Complete != "":
			complete = cp.Complete
		}
		out = append(out, join(dot, Where(c, a), cutTexts[cp.Cut], left, complete))
	}
	return out
}

// Where says in a few words where a copy is. It is cheap.
func Where(c *model.Collection, a model.Accession) string {
	cp := c.Copy(a)
	spot, stands := c.Standing(a)
	switch {
	case cp.Out != nil && cp.Out.To != "":
		return "out since " + string(cp.Out.Since) + ", with " + cp.Out.To
	case cp.Out != nil:
		return "out since " + string(cp.Out.Since)
	case cp.Missing != "":
		return "not found on " + string(cp.Missing)
	case stands:
		b, _ := c.Shelf().Box(spot.Box)
		return fmt.Sprintf("box %s, place %d", b.Name, spot.Index+1)
	case cp.Hook.Row != 0:
		return "hook " + c.HookText(cp.Hook)
	}
	return "on the to-file pile"
}

// fits says of each person that is sewn for whether it fits, by the copy that
// fits best.
func fits(c *model.Collection, p *model.Pattern, copies []model.Accession, dot string) []said {
	var out []said
	for _, who := range c.People().All() {
		best := fit.Try(who, p, nil, nil)
		for i, a := range copies {
			if answer := fit.Try(who, p, c.Copy(a), nil); i == 0 || rank(answer) < rank(best) {
				best = answer
			}
		}
		text := who.Name + ": " + string(best.Verdict)
		if best.Verdict != fit.Unknown {
			text += ", " + string(best.Sure)
		}
		out = append(out, said{join(dot, append([]string{text}, best.Words(c.Shelf().Settings)...)...), who.Name + ": " + inShort(best)})
	}
	return out
}

// inShort says which size fits, and by what where that is not the sleeve's own
// chart.
func inShort(a fit.Answer) string {
	if a.Verdict != fit.Fits && a.Verdict != fit.Blend {
		return string(a.Verdict)
	}
	var sizes []string
	for _, m := range a.Readings[0].Matches {
		if !slices.Contains(sizes, m.Size) {
			sizes = append(sizes, m.Size)
		}
	}
	text := strings.Join(sizes, " and ")
	if a.Sure != fit.Printed {
		text += ", " + string(a.Sure)
	}
	return text
}

func rank(a fit.Answer) int {
	return slices.Index([]fit.Verdict{fit.Fits, fit.Blend, fit.Unknown, fit.No}, a.Verdict)
}

// enough says of each cloth for which views and sizes it is enough.
func enough(c *model.Collection, p *model.Pattern, dot string) []said {
	if len(p.Needs) == 0 {
		return nil
	}
	set := c.Shelf().Settings
	var out []said
	for _, x := range c.Cloths().All() {
		parts := []string{fmt.Sprintf("%s, %s of %s", x.Name, set.ClothThere(x.Length), set.Tape(x.Width))}
		var does []string
		for _, a := range cloth.For(p.Needs, x, set) {
			what := join(" ", a.View, a.Size, a.For)
			text := what + ": " + string(a.Verdict)
			switch {
			case a.Need > 0 && a.Printed:
				text += ", needs " + set.Cloth(a.Need)
			case a.Need > 0:
				text += ", about " + set.Cloth(a.Need) + " by estimate"
			}
			parts = append(parts, strings.TrimPrefix(text, ": "))
			if a.Verdict != cloth.Short && a.For == "" { // linings and the like are cut from something else
				does = append(does, strings.TrimSpace(what+" "+string(a.Verdict)))
			}
		}
		short := "short"
		if len(does) > 0 {
			short = strings.Join(does, ", ")
		}
		out = append(out, said{join(dot, parts...), x.Name + ": " + short})
	}
	return out
}

// made lists what was made of it, the latest first.
func made(c *model.Collection, p *model.Pattern) []*model.Make {
	var list []*model.Make
	for _, m := range c.Makes().All() {
		if m.Pattern == p.ID {
			list = append(list, m)
		}
	}
	slices.SortStableFunc(list, func(a, b *model.Make) int { return strings.Compare(string(b.On), string(a.On)) })
	return list
}

// addMade says what was made; in short how often, and the latest.
func (s *Sleeve) addMade(list []*model.Make, dot string) {
	f := fact{about: "made"}
	for _, m := range list {
		f.full = append(f.full, string(m.On)+" "+Make(m, dot))
	}
	switch n := len(list); n {
	case 0:
		return
	case 1:
		f.short = f.full
	default:
		f.short = []string{fmt.Sprintf("%d times, the last", n), f.full[0]}
	}
	s.facts = append(s.facts, f)
}

// Make says what was made, but for the day and the pattern.
func Make(m *model.Make, dot string) string {
	return join(dot, named("for ", m.For), named("view ", m.View), named("size ", m.Size), m.Cloth, named("changed: ", m.Changed), named("next time: ", m.Better), m.Notes)
}

func named(what, text string) string {
	if text == "" {
		return ""
	}
	return what + text
}

func queued(c *model.Collection, p *model.Pattern, dot string) string {
	for i, q := range c.Queue() {
		if q.Pattern == p.ID {
			return join(dot, fmt.Sprintf("place %d", i+1), Queued(&c.Queue()[i], dot))
		}
	}
	return ""
}

// Queued says what is to be sewn, but for the pattern.
func Queued(q *model.Queued, dot string) string {
	return join(dot, named("for ", q.For), named("by ", string(q.By)), q.Cloth, q.Notes)
}

// Links says what other patterns a pattern is linked with, and how.
func Links(c *model.Collection, p *model.Pattern) []string {
	var out []string
	for _, l := range p.Links {
		text := c.Called(l.To)
		if l.Kind == model.Reissue {
			text += ", the same design issued again"
		}
		out = append(out, text)
	}
	return out
}

// also names the further categories that have an entry for it.
func also(c *model.Collection, p *model.Pattern) string {
	var names []string
	for _, id := range p.Also {
		if k := c.Category(id); k != nil && slices.Contains(p.Copied, id) {
			names = append(names, k.Name+" (photocopy)")
		} else if k != nil {
			names = append(names, k.Name)
		}
	}
	return strings.Join(names, ", ")
}

// bodies is the sleeve's own chart.
func bodies(p *model.Pattern, set model.Settings, dot string) []string {
	var out []string
	measure := func(name string, l model.Length) string {
		if l == 0 {
			return ""
		}
		return name + " " + set.Tape(l)
	}
	for _, z := range p.Sizes {
		out = append(out, z.Name+": "+join(dot, measure("bust", z.Bust), measure("waist", z.Waist), measure("hip", z.Hip)))
	}
	return out
}

// needs is the cloth that the sleeve asks for.
func needs(p *model.Pattern, set model.Settings, dot string) []string {
	var out []string
	for _, n := range p.Needs {
		out = append(out, join(dot, named("view ", n.View), named("size ", n.Size), fmt.Sprintf("%s of %s", set.Cloth(n.Length), set.Tape(n.Width)), n.For))
	}
	return out
}
