package sample

import (
	"fmt"
	"slices"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// Event is a change and the day on which it was made.
type Event struct {
	On     model.Date
	Change model.Change
}

// Story is what happened to a cupboard, from empty on.
type Story struct{ Events []Event }

// Collection is the cupboard at the end of the story, in memory.
func (s Story) Collection() (*model.Collection, error) {
	c := model.NewCollection()
	for i, e := range s.Events {
		next, _, err := c.Apply(e.Change, e.On)
		if err != nil {
			return nil, fmt.Errorf("event %d of the story, of %s: %w", i+1, e.On, err)
		}
		c = next
	}
	return c, nil
}

// demoSeed is any number; another gives another cupboard of the same shape.
const demoSeed = 1

// Demo is the wardrobe cupboard of a small village theatre. Its keeper has
// filed what was there and the first of two inherited drawers; since then a
// few envelopes were put back in the wrong place, the second drawer waits half
// done, and a parcel has come. She notes what is made of the patterns, too, and
// what is to be bought.
func Demo() Story {
	m := newMaker(demoSeed)
	m.used = map[string]bool{}
	all := m.designs()
	reissues(all)
	t := &teller{c: model.NewCollection()}
	t.tell("2025-03-01", &model.SetShelf{Spec: shelf()})

	cupboard := m.arrivals(all, own)
	half := len(cupboard) / 2
	again := seconds(cupboard, 12)
	t.enter("2025-03-08", "cupboard, upper shelf", cupboard[:half])
	t.enter("2025-03-22", "cupboard, lower shelf", append(cupboard[half:], again[:9]...))
	t.enter("2025-05-10", "first inherited drawer", m.arrivals(all, firstDrawer))
	hung := t.enter("2025-05-24", "printed and traced at home", t.hang(m.arrivals(all, atHome)))
	rows := t.lay()
	t.tell("2025-06-14", &model.Stand{Rows: rows})
	t.tell("2025-09-20", &model.TakeOut{Copy: rows[0].Copies[31], To: "the youth group", For: "autumn revue"})
	t.tell("2025-10-25", &model.TakeOut{Copy: rows[1].Copies[12], To: "Ilse, chorus"})
	t.tell("2025-11-08", &model.Stand{Rows: misplace(rows, hung[4])})

	second := t.enter("2025-11-15", "second inherited drawer", undone(m.arrivals(all, secondDrawer)))
	t.tell("2025-11-16", &model.Tick{Copies: second[:34], Step: model.StepSleeve})
	t.tell("2025-11-22", &model.Tick{Copies: second[:24], Step: model.StepEnvelope})
	t.tell("2025-11-23", &model.Tick{Copies: second[:12], Step: model.StepGroup})
	bought := undone(append(m.arrivals(all, parcel), again[9:]...))
	t.tell("2025-11-29", &model.TakeOut{Copy: rows[2].Copies[9], For: "fitting on Thursday"})
	t.inherits("2025-12-01")
	t.enter("2025-12-06", "parcel from the jumble sale", bought)
	t.sewing("2025-12-07")
	return Story{t.events}
}

// teller keeps the cupboard as far as the story has been told, which gives the
// accession numbers and the filing order that later events need.
type teller struct {
	c      *model.Collection
	events []Event
}

func (t *teller) tell(on model.Date, ch model.Change) model.Delta {
	next, delta, err := t.c.Apply(ch, on)
	if err != nil {
		panic(fmt.Sprintf("sample: the story does not hold together on %s: %v", on, err)) // a fault of this package, met by its tests
	}
	t.c, t.events = next, append(t.events, Event{on, ch})
	return delta
}

// enter adds a batch and gives the accession numbers.
func (t *teller) enter(on model.Date, batch string, entries []model.Entry) []model.Accession {
	for i := range entries {
		entries[i].Batch = batch
	}
	return model.Commit{Delta: t.tell(on, &model.Add{Entries: entries})}.Added()
}

// lay puts everything that belongs in a box into one, in filing order, each box
// beginning where the keeper began it.
func (t *teller) lay() []model.NamedRow {
	l := ordering.Arrange(t.c)
	rows := []model.NamedRow{{Box: "1"}, {Box: "2"}, {Box: "3"}}
	box := 0
	for _, it := range l.Row() {
		switch l.Section(it.Section).Title {
		case secondBox:
			box = 1
		case thirdBox:
			box = 2
		}
		rows[box].Copies = append(rows[box].Copies, it.Copy)
	}
	return rows
}

// misplace is how the boxes are found after a summer of use: six envelopes put
// back in the wrong place, one of them in the wrong box, and something in a box
// that belongs on a hook.
func misplace(rows []model.NamedRow, fromHook model.Accession) []model.NamedRow {
	found := make([]model.NamedRow, len(rows))
	for i, r := range rows {
		found[i] = model.NamedRow{Box: r.Box, Copies: slices.Clone(r.Copies)}
	}
	move := func(box, from, toBox, to int) {
		a := found[box].Copies[from]
		found[box].Copies = slices.Delete(found[box].Copies, from, from+1)
		found[toBox].Copies = slices.Insert(found[toBox].Copies, to, a)
	}
	move(0, 17, 0, 58)
	move(0, 86, 0, 24)
	move(1, 40, 1, 47)
	move(1, 92, 1, 11)
	move(2, 26, 2, 61)
	move(0, 70, 2, 18)
	found[1].Copies = slices.Insert(found[1].Copies, 65, fromHook)
	return found
}

// arrivals gives the entries of one origin, in the order in which they came to
// hand, which is none.
func (m *maker) arrivals(all []design, from origin) []model.Entry {
	var out []model.Entry
	for _, d := range all {
		if d.from == from {
			out = append(out, d.Entry)
		}
	}
	m.r.Shuffle(len(out), func(i, j int) { out[i], out[j] = out[j], out[i] })
	return out
}

// seconds gives further copies of n patterns: where the one is cut the other
// is not.
func seconds(of []model.Entry, n int) []model.Entry {
	var out []model.Entry
	for _, en := range of {
		if en.Medium != model.Tissue || en.Cut == model.CutUnknown || len(out) == n {
			continue
		}
		if en.Cut == model.Uncut {
			en.Cut = model.FullyCut
		} else {
			en.Cut = model.Uncut
		}
		en.Complete, en.Thickness, en.Notes, en.Sleeve = "", 0, "second copy", model.SleeveWithTissue
		out = append(out, en)
	}
	return out
}

// reissues makes a few designs the same as others under another number.
func reissues(all []design) {
	const every = 47
	for i := every; i < len(all); i += every {
		was, is := &all[i-every/2], &all[i]
		if was.Number == "" || is.from != own || otherSize(was.Number, all[i-every/2+1].Number) || is.Name == "" {
			continue
		}
		is.Name, is.Category, is.Also, is.Notes = was.Name, was.Category, was.Also, "reissue of "+was.Publisher+" "+was.Number
	}
}

// hang gives hooks to all but the last three, which have not been hung yet: those on
// which they belong, but for two that were hung the wrong way round.
func (t *teller) hang(entries []model.Entry) []model.Entry {
	c, delta, err := t.c.Apply(&model.Add{Entries: entries}, "2025-05-24")
	if err != nil {
		panic(fmt.Sprintf("sample: what hangs cannot be entered: %v", err)) // a fault of this package, met by its tests
	}
	at := map[model.Accession]int{}
	for i, a := range (model.Commit{Delta: delta}).Added() {
		at[a] = i
	}
	for _, h := range ordering.Arrange(c).Hooks() {
		for _, it := range h.Items {
			if i := at[it.Copy]; i < len(entries)-3 {
				entries[i].Hook = h.Name()
			}
		}
	}
	entries[0].Hook, entries[7].Hook = entries[7].Hook, entries[0].Hook
	return entries
}

// undone takes back what would have been done with sleeves, but for those that
// are missing: of these there is nothing to do.
func undone(entries []model.Entry) []model.Entry {
	for i := range entries {
		if entries[i].Sleeve != model.SleeveMissing {
			entries[i].Sleeve = model.SleeveWaiting
		}
	}
	return entries
}
