package ordering

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"sort"
	"strconv"
	"time"

	"example.org/tuckrow/model"
)

// Way is a way of answering a batch that makes a box spill.
type Way string

// The three honest answers.
const (
	PushOn      Way = "push-on" // into the next boxes, as far as it goes
	InsertBox   Way = "insert"  // a new box in between
	SplitAfresh Way = "afresh"  // all walls anew, the boxes as alike as can be
)

// Ways lists the answers.
func Ways() []Way { return []Way{PushOn, InsertBox, SplitAfresh} }

// Answer is one way of taking a batch in, and what it costs.
type Answer struct {
	Way        Way
	Plan       Plan
	Boxes      int // in use
	Difference     // envelopes that change box, labels to redo
	Cards      int // cards to make or to move
	Room       model.Length
	Outlook    Outlook
	decision   *model.Decide
}

// Decision is the change that settles the answer.
func (a *Answer) Decision() *model.Decide { return a.decision }

// Outlook is how many more patterns fit before a box spills again.
type Outlook struct {
	Likely Fits // in half of the trials, by how the sections have grown
	Poor   Fits // in one trial of ten not even this many
	Even   Fits // reckoned, if every part of the row grew alike
}

// Fits is how many more patterns fit. What is above MostFits is not counted any
// further: any number there means more than that.
type Fits int

// MostFits is more than anybody plans ahead (our choice), and bounds the trials where
// copies are next to nothing thick or boxes as long as a room.
const MostFits Fits = 999

// String writes the number, or "more than 999".
func (f Fits) String() string {
	if f > MostFits {
		return fmt.Sprintf("more than %d", int(MostFits))
	}
	return strconv.Itoa(int(f))
}

// Answers gives the three ways side by side, the pile included.
func (l *Layout) Answers() []Answer {
	g := l.growth()
	push := l.Target()
	return []Answer{l.answer(PushOn, push, g), l.insertBox(g), l.answer(SplitAfresh, l.Split(Even), g)}
}

func (l *Layout) answer(way Way, p Plan, g growth) Answer {
	a := Answer{Way: way, Plan: p, Boxes: p.Used(), Difference: l.Compare(p), Cards: l.newCards(&p), decision: p.Decision()}
	for i := range p.Boxes {
		if h := &p.Boxes[i]; len(h.Items) > 0 {
			a.Room += max(0, h.Free())
		}
	}
	a.Outlook = g.outlook(l, &p)
	return a
}

// mostInserted bounds how many new boxes are put in between. A batch that
// spills more boxes than that is better split afresh.
const mostInserted = 12

// insertBox puts a new box behind the first box that would spill, and another
// one as long as one still does. Where nothing spills none is put in.
func (l *Layout) insertBox(g growth) Answer {
	now := l
	var added []model.NewBox
	for len(added) < mostInserted {
		next, box, ok := now.insertOne()
		if !ok {
			break
		}
		now, added = next, append(added, box)
	}
	p := now.Target()
	for i := range p.Boxes {
		for _, b := range added {
			if p.Boxes[i].Box.Name == b.Name {
				p.Boxes[i].New = true
			}
		}
	}
	a := l.answer(InsertBox, p, g)
	a.decision.Boxes = added
	for _, b := range p.Needs() {
		if !slices.ContainsFunc(added, func(x model.NewBox) bool { return x.Name == b.Name }) {
			a.decision.Boxes = append(a.decision.Boxes, model.NewBox{BoxSpec: b})
		}
	}
	return a
}

// insertOne puts a box behind the first that spills. Of a row of boxes that
// push on into each other the first is the best place: what it spills has to go
// somewhere, and with a box there nothing behind it need change.
func (l *Layout) insertOne() (*Layout, model.NewBox, bool) {
	spilling := l.spilling()
	if len(spilling) == 0 {
		return nil, model.NewBox{}, false
	}
	b := model.NewBox{BoxSpec: l.newBoxBehind(spilling[0]), After: spilling[0].Name}
	with, delta, err := l.c.Apply(&model.Decide{Boxes: []model.NewBox{b}, Firsts: l.firsts()}, "")
	if err != nil {
		return nil, b, false // the name is free and the box has a length, so there is nothing to refuse
	}
	return l.Next(model.Commit{Collection: with, Delta: delta}), b, true
}

// firsts names the walls that have been decided on, to be kept in a trial.
func (l *Layout) firsts() []model.NamedWall {
	var out []model.NamedWall
	for _, w := range l.c.Walls().Firsts {
		if b, ok := l.c.Shelf().Box(w.Box); ok && l.c.Copy(w.First) != nil {
			out = append(out, model.NamedWall{Box: b.Name, First: w.First})
		}
	}
	return out
}

// spilling lists the boxes behind which, by the plan that pushes on, the next
// one has to begin before its wall: something is pushed on into it. Boxes
// without a wall take what is pushed on and push nothing themselves.
func (l *Layout) spilling() []model.Box {
	walls := l.decided()
	if len(walls) == 0 {
		walls = l.found()
	}
	var out []model.Box
	plan, at := l.Target(), 0
	boxes := l.c.Shelf().Boxes
	for i, b := range boxes {
		at += len(plan.Boxes[i].Items)
		stop := len(l.row)
		if i+1 < len(boxes) {
			w, ok := walls[boxes[i+1].ID]
			if !ok {
				continue
			}
			stop = w
		}
		if at < stop {
			out = append(out, b)
		}
	}
	return out
}

// newBoxBehind names a box after the one it is put behind: 2a behind 2.
func (l *Layout) newBoxBehind(b model.Box) model.BoxSpec {
	for i := 0; ; i++ {
		name := b.Name + string(rune('a'+i%26))
		if i >= 26 {
			name += strconv.Itoa(i / 26)
		}
		if _, err := l.c.Shelf().BoxNamed(name); err != nil {
			return model.BoxSpec{Name: name, Length: b.Length}
		}
	}
}

// newCards counts the cards of a plan that do not stand in that box before
// that copy now.
func (l *Layout) newCards(p *Plan) int {
	type placed struct {
		box    model.BoxID
		text   string
		before model.Accession
	}
	now := map[placed]bool{}
	for _, h := range l.Standing() {
		for _, c := range h.Cards() {
			now[placed{h.Box.ID, c.Text, c.Before}] = true
		}
	}
	n := 0
	for i := range p.Boxes {
		h := &p.Boxes[i]
		for _, c := range h.Cards() {
			if !now[placed{h.Box.ID, c.Text, c.Before}] {
				n++
			}
		}
	}
	return n
}

// growth is how many copies each section gained in the year before the newest
// arrival, by section index.
type growth []int

// growth counts arrivals. Where no arrival has a date, a section is taken to
// grow with its size.
func (l *Layout) growth() growth {
	newest := model.Date("")
	for _, it := range l.row {
		newest = max(newest, l.c.Copy(it.Copy).Added)
	}
	since := model.Date("")
	if day, err := time.Parse(time.DateOnly, string(newest)); err == nil {
		since = model.Date(day.AddDate(-1, 0, 0).Format(time.DateOnly))
	}
	g := make(growth, len(l.Sections()))
	for _, it := range l.row {
		if l.c.Copy(it.Copy).Added > since || newest == "" {
			g[it.Section]++
		}
	}
	return g
}

// The trials are the same each time, so that two looks at one cupboard agree.
const (
	trials    = 200
	trialSeed = 20240229
)

// part is the piece of one section that stands in one box.
type part struct {
	box       int
	thickness model.Length // of a copy to come: the mean of the section
	upTo      float64      // probability that the next copy falls here or before
}

// outlook lets copies arrive as the sections have grown, each at a random
// place of its section, until one does not fit its box.
func (g growth) outlook(l *Layout, p *Plan) Outlook {
	parts, free := g.parts(l, p)
	if len(parts) == 0 {
		return Outlook{}
	}
	r := rand.New(rand.NewPCG(trialSeed, uint64(len(l.row))))
	counts := make([]Fits, trials)
	left := make([]model.Length, len(free))
	for t := range counts {
		copy(left, free)
		for counts[t] <= MostFits {
			x := r.Float64()
			i := min(sort.Search(len(parts), func(i int) bool { return parts[i].upTo > x }), len(parts)-1)
			if left[parts[i].box] -= parts[i].thickness; left[parts[i].box] < 0 {
				break
			}
			counts[t]++
		}
	}
	slices.Sort(counts)
	return Outlook{counts[trials/2], counts[trials/10], l.even(p)}
}

// parts says how likely the next copy falls into which part of which box.
func (g growth) parts(l *Layout, p *Plan) (parts []part, free []model.Length) {
	type size struct {
		n     int
		thick model.Length
	}
	sections := make([]size, len(g))
	inBox := make([]map[int]int, len(p.Boxes))
	free = make([]model.Length, len(p.Boxes))
	for b := range p.Boxes {
		h := &p.Boxes[b]
		free[b], inBox[b] = max(0, h.Free()), map[int]int{}
		for _, it := range h.Items {
			inBox[b][it.Section]++
			sections[it.Section].n++
			sections[it.Section].thick += it.Thickness
		}
	}
	arrivals := 0
	for _, n := range g {
		arrivals += n
	}
	if arrivals == 0 {
		return nil, nil
	}
	sum := 0.0
	for b, counts := range inBox {
		for s, z := range sections {
			if n := counts[s]; n > 0 && g[s] > 0 {
				sum += float64(g[s]) / float64(arrivals) * float64(n) / float64(z.n)
				parts = append(parts, part{b, max(1, z.thick/model.Length(z.n)), sum})
			}
		}
	}
	return parts, free
}

// even reckons the same without chance: each box gains in proportion to what
// it holds, copies of the mean thickness, and the first to be full counts.
func (l *Layout) even(p *Plan) Fits {
	var thick model.Length
	for _, it := range l.row {
		thick += it.Thickness
	}
	n := model.Length(len(l.row))
	least := Fits(-1)
	for i := range p.Boxes {
		h := &p.Boxes[i]
		if len(h.Items) == 0 || thick == 0 {
			continue
		}
		// The box gets len(items)/n of the copies, each thick/n: it is full
		// after free / (items/n * thick/n) of them.
		fits := Fits(min(float64(MostFits+1), float64(max(0, h.Free()))*float64(n)/float64(len(h.Items))*float64(n)/float64(thick)))
		if least < 0 || fits < least {
			least = fits
		}
	}
	return max(0, least)
}
