package storage

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"testing"

	"example.org/tuckrow/model"
	"pgregory.net/rapid"
)

// oracle is a cupboard as plain maps, with rules of its own writing: what a
// store must hold after each change.
type oracle struct {
	copies map[model.Accession]card
	rows   map[string][]model.Accession // by box
	hooks  int                          // on the one row, "door"; 0: there is none
	last   model.Accession
}

// card is what the oracle keeps of one copy.
type card struct {
	number, hook, outTo               string
	year                              int
	sleeve, enveloped, grouped, isOut bool
}

func (o oracle) clone() oracle {
	o.copies = maps.Clone(o.copies)
	rows := map[string][]model.Accession{}
	for box, r := range o.rows {
		rows[box] = slices.Clone(r)
	}
	o.rows = rows
	return o
}

func (o *oracle) lift(a model.Accession) {
	for box, r := range o.rows {
		o.rows[box] = slices.DeleteFunc(r, func(x model.Accession) bool { return x == a })
	}
}

// says writes the oracle down the way held writes a collection down.
func (o oracle) says() string {
	out := fmt.Sprintln("last", o.last)
	for _, a := range slices.Sorted(maps.Keys(o.copies)) {
		out += fmt.Sprintf("%d %+v\n", a, o.copies[a])
	}
	for _, box := range slices.Sorted(maps.Keys(o.rows)) {
		out += fmt.Sprintln("box", box, o.rows[box])
	}
	return out
}

func held(c *model.Collection) string {
	o := oracle{copies: map[model.Accession]card{}, rows: map[string][]model.Accession{}, last: c.Counters().Copy}
	for _, cp := range c.Copies().All() {
		k := card{number: c.Pattern(cp.Pattern).Number, hook: c.HookText(cp.Hook), year: c.Pattern(cp.Pattern).Year,
			sleeve: cp.Sleeve != "", enveloped: cp.Enveloped, grouped: cp.Grouped, isOut: cp.Out != nil}
		if cp.Out != nil {
			k.outTo = cp.Out.To
		}
		o.copies[cp.Accession] = k
	}
	for _, b := range c.Shelf().Boxes {
		o.rows[b.Name] = slices.Clone(c.Row(b.ID))
	}
	return o.says()
}

var (
	anyCopy = rapid.Custom(func(t *rapid.T) model.Accession { return model.Accession(rapid.IntRange(1, 7).Draw(t, "copy")) })
	anyBox  = rapid.SampledFrom([]string{"a", "b", "c"})
	anyHook = rapid.SampledFrom([]string{"", "", "", "", "door 1", "door 2", "door 3", "door", "wall 1", "door 0"})
)

// step is a change and what it does to the oracle; false: it must be refused.
type step struct {
	change model.Change
	expect func(o *oracle) bool
}

var steps = []*rapid.Generator[step]{
	rapid.Custom(func(t *rapid.T) step {
		n, year, box, hook := rapid.IntRange(1, 3).Draw(t, "n"), rapid.IntRange(0, 2000).Draw(t, "year"), rapid.SampledFrom([]string{"", "", "a", "b"}).Draw(t, "box"), anyHook.Draw(t, "hook")
		var list []model.Entry
		for i := range n {
			list = append(list, model.Entry{Publisher: "Quillon", Number: fmt.Sprint("K", i), Year: year, Box: box, Hook: hook})
		}
		return step{&model.Add{Entries: list}, func(o *oracle) bool {
			if _, there := o.rows[box]; (box != "" && !there) || (hook != "" && (box != "" || !o.hangs(hook))) {
				return false
			}
			for i := range n {
				o.last++
				o.copies[o.last] = card{number: fmt.Sprint("K", i), year: year, hook: hook}
				if box != "" {
					o.rows[box] = append(o.rows[box], o.last)
				}
			}
			return true
		}}
	}),
	rapid.Custom(func(t *rapid.T) step {
		a, year := anyCopy.Draw(t, "a"), rapid.IntRange(-1, 2000).Draw(t, "year")
		return step{&model.Revise{Entry: model.Entry{Accession: a, Publisher: "Harrow & Pell", Number: "R", Year: year}}, func(o *oracle) bool {
			return year >= 0 && o.alter(a, func(k *card) bool {
				k.number, k.year, k.sleeve, k.enveloped, k.grouped = "R", year, false, false, false
				return true
			})
		}}
	}),
	rapid.Custom(func(t *rapid.T) step {
		list := rapid.SliceOfN(anyCopy, 0, 3).Draw(t, "copies")
		return step{&model.Remove{Copies: list}, func(o *oracle) bool {
			for _, a := range list {
				if _, there := o.copies[a]; !there {
					return false
				}
			}
			for _, a := range list {
				o.lift(a)
				delete(o.copies, a)
			}
			return true
		}}
	}),
	rapid.Custom(func(t *rapid.T) step {
		a, what, undone := anyCopy.Draw(t, "a"), model.Step(rapid.IntRange(-1, 5).Draw(t, "step")), rapid.Bool().Draw(t, "undone")
		return step{&model.Tick{Copies: []model.Accession{a}, Step: what, Undone: undone}, func(o *oracle) bool {
			return o.alter(a, func(k *card) bool {
				switch what {
				case model.StepSleeve:
					k.sleeve = !undone
				case model.StepEnvelope:
					k.enveloped = !undone
				case model.StepGroup:
					k.grouped = !undone
				default:
					return false
				}
				return true
			})
		}}
	}),
	rapid.Custom(func(t *rapid.T) step {
		box, list := anyBox.Draw(t, "box"), rapid.SliceOfN(anyCopy, 0, 4).Draw(t, "copies")
		return step{&model.Stand{Rows: []model.NamedRow{{Box: box, Copies: list}}}, func(o *oracle) bool {
			if _, there := o.rows[box]; !there {
				return false
			}
			o.rows[box] = nil
			for i, a := range list {
				if slices.Contains(list[:i], a) || !o.alter(a, func(k *card) bool { k.enveloped, k.grouped, k.hook = true, true, ""; return true }) {
					return false
				}
				o.lift(a)
			}
			o.rows[box] = list
			return true
		}}
	}),
	rapid.Custom(func(t *rapid.T) step {
		a, hook := anyCopy.Draw(t, "a"), anyHook.Draw(t, "hook")
		return step{&model.Hang{Copy: a, Hook: hook}, func(o *oracle) bool {
			if hook != "" && !o.hangs(hook) {
				return false
			}
			if hook != "" {
				o.lift(a)
			}
			return o.alter(a, func(k *card) bool { k.hook = hook; return true })
		}}
	}),
	rapid.Custom(func(t *rapid.T) step {
		a := anyCopy.Draw(t, "a")
		return step{&model.TakeOut{Copy: a, To: "Ada"}, func(o *oracle) bool {
			return o.alter(a, func(k *card) bool {
				was, hers := k.isOut, k.outTo == "Ada"
				k.isOut, k.outTo = true, "Ada"
				return !was || !hers
			})
		}}
	}),
	rapid.Custom(func(t *rapid.T) step {
		a := anyCopy.Draw(t, "a")
		return step{&model.PutBack{Copy: a}, func(o *oracle) bool {
			return o.alter(a, func(k *card) bool { was := k.isOut; k.isOut, k.outTo = false, ""; return was })
		}}
	}),
	rapid.Custom(func(t *rapid.T) step {
		boxes, hooks := rapid.SliceOfN(anyBox, 0, 3).Draw(t, "boxes"), rapid.IntRange(0, 3).Draw(t, "hooks")
		spec := model.ShelfSpec{Settings: model.DefaultSettings()}
		for _, b := range boxes {
			spec.Boxes = append(spec.Boxes, model.BoxSpec{Name: b, Length: model.MM(300)})
		}
		if hooks > 0 {
			spec.Hooks = []model.HookSpec{{Name: "door", Hooks: hooks, Each: 3}}
		}
		return step{&model.SetShelf{Spec: spec}, func(o *oracle) bool { return o.furnish(boxes, hooks) }}
	}),
	rapid.Custom(func(t *rapid.T) step {
		box, a := anyBox.Draw(t, "box"), anyCopy.Draw(t, "a")
		return step{&model.Decide{Firsts: []model.NamedWall{{Box: box, First: a}}}, func(o *oracle) bool {
			_, there := o.rows[box]
			return there && o.alter(a, func(*card) bool { return true })
		}}
	}),
}

func (o *oracle) alter(a model.Accession, change func(k *card) bool) bool {
	k, there := o.copies[a]
	ok := there && change(&k)
	if ok {
		o.copies[a] = k
	}
	return ok
}

func (o *oracle) hangs(hook string) bool {
	var n int
	_, err := fmt.Sscanf(hook, "door %d", &n)
	return err == nil && n >= 1 && n <= o.hooks
}

func (o *oracle) furnish(boxes []string, hooks int) bool {
	rows := map[string][]model.Accession{}
	for _, b := range boxes {
		if _, twice := rows[b]; twice {
			return false
		}
		rows[b] = o.rows[b]
	}
	o.rows, o.hooks = rows, hooks
	for a, k := range o.copies {
		if !o.hangs(k.hook) {
			k.hook = ""
			o.copies[a] = k
		}
	}
	return true
}

func TestRandomChangesAgainstMaps(t *testing.T) {
	for _, memory := range []bool{true, false} {
		t.Run(map[bool]string{true: "memory", false: "disk"}[memory], func(t *testing.T) {
			if !memory {
				fewer(t)
			}
			kinds := map[string]int{}
			rapid.Check(t, func(rt *rapid.T) { play(t, rt, memory, kinds) })
			t.Logf("changes made and refused: %v", kinds)
		})
	}
}

// fewer asks rapid for a quarter of its checks, since opening a store on disk
// is slow.
func fewer(t *testing.T) {
	f := flag.Lookup("rapid.checks")
	n, err := strconv.Atoi(f.Value.String())
	if err != nil {
		t.Fatal(err)
	}
	was := f.Value.String()
	if err := f.Value.Set(strconv.Itoa(max(1, n/4))); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := f.Value.Set(was); err != nil {
			t.Error(err)
		}
	})
}

// play makes random changes, undoes and opens again, and compares after each.
func play(t *testing.T, rt *rapid.T, memory bool, kinds map[string]int) {
	s := &cupboard{t: t, memory: memory}
	if !memory {
		s.dir = t.TempDir()
	}
	s.open()
	defer s.shut()
	now := oracle{copies: map[model.Accession]card{}, rows: map[string][]model.Accession{}}
	now.furnish([]string{"a", "b"}, 2)
	var past []oracle
	s.do(&model.SetShelf{Spec: model.ShelfSpec{Settings: model.DefaultSettings(),
		Boxes: []model.BoxSpec{{Name: "a", Length: 100}, {Name: "b", Length: 100}}, Hooks: []model.HookSpec{{Name: "door", Hooks: 2, Each: 3}}}})
	for range 3 {
		past = append(past, now.clone())
		now.last++
		now.copies[now.last] = card{number: "1"}
		s.do(&model.Add{Entries: []model.Entry{entryOf("Quillon", "1", "")}})
	}
	for i := range past {
		past[i].last = now.last
	}
	change := func(rt *rapid.T) {
		st := rapid.OneOf(steps...).Draw(rt, "step")
		next := now.clone()
		want := st.expect(&next)
		_, err := s.Commit(context.Background(), st.change)
		if (err == nil) != want || (err != nil && !model.IsInput(err)) {
			rt.Fatalf("%T %+v gave %v, and it should be accepted: %v", st.change, st.change, err, want)
		}
		if kinds[fmt.Sprintf("%T %v", st.change, want)]++; want {
			past, now = append(past, now), next
		}
	}
	rt.Repeat(map[string]func(*rapid.T){
		"change": change, "another": change, "yet another": change,
		"undo": func(rt *rapid.T) {
			if len(past) == 0 {
				rt.Skip("the shelf stays")
			}
			if _, err := s.Undo(context.Background()); err != nil {
				rt.Fatal(err)
			}
			last := now.last
			now, past = past[len(past)-1], past[:len(past)-1]
			now.last = last // numbers stay given
			for i := range past {
				past[i].last = last
			}
		},
		"reopen": func(*rapid.T) { s.reopen() },
		"": func(rt *rapid.T) {
			if got, want := held(s.Collection()), now.says(); got != want {
				rt.Fatalf("the store holds\n%s\nwant\n%s", got, want)
			}
			if _, err := s.Verify(); err != nil {
				rt.Fatal(err)
			}
		},
	})
	undoAll(rt, s, len(past)+1) // the shelf too
}

func undoAll(rt *rapid.T, s *cupboard, n int) {
	for range n {
		if _, err := s.Undo(context.Background()); err != nil {
			rt.Fatal(err)
		}
	}
	if _, err := s.Undo(context.Background()); !errors.Is(err, model.ErrNothingToUndo) {
		rt.Fatalf("with all undone, undo gave %v", err)
	}
	if got, want := records(s.t, s.Collection()), records(s.t, model.NewCollection()); got != want {
		rt.Fatalf("with all undone there is\n%s", got)
	}
}
