package backup

import (
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
)

// ledger is a cupboard as a plain map, with rules of its own writing: the
// number of each copy, and the highest that was given.
type ledger struct {
	numbers map[model.Accession]string
	last    model.Accession
}

func (l ledger) clone() ledger { return ledger{maps.Clone(l.numbers), l.last} }

func (l ledger) says() string {
	out := fmt.Sprintln("last", l.last)
	for _, a := range slices.Sorted(maps.Keys(l.numbers)) {
		out += fmt.Sprintln(a, l.numbers[a])
	}
	return out
}

func ledgerOf(c *model.Collection) ledger {
	l := ledger{map[model.Accession]string{}, c.Counters().Copy}
	for _, cp := range c.Copies().All() {
		l.numbers[cp.Accession] = c.Pattern(cp.Pattern).Number
	}
	return l
}

// life is a store that goes through everything, and what it must hold.
type life struct {
	t    *testing.T
	r    *rand.Rand
	dir  string
	s    *storage.Store
	day  time.Time
	now  ledger
	past []ledger // before each change that can be undone
	kept map[string]ledger
	did  map[string]int
}

func (l *life) change() {
	before := l.now.clone()
	switch a := model.Accession(l.r.IntN(int(l.now.last)+2) + 1); l.r.IntN(4) {
	case 0:
		_, err := l.s.Commit(ctx, &model.Remove{Copies: []model.Accession{a}})
		_, there := l.now.numbers[a]
		l.agreed(err, there)
		if delete(l.now.numbers, a); !there {
			return
		}
	case 1:
		number := fmt.Sprint("R", l.r.IntN(9))
		_, err := l.s.Commit(ctx, &model.Revise{Entry: model.Entry{Accession: a, Publisher: "Thimbrell Row", Number: number}})
		_, there := l.now.numbers[a]
		if l.agreed(err, there); !there {
			return
		}
		l.now.numbers[a] = number
	default:
		n := 1 + l.r.IntN(5)
		if l.r.IntN(12) == 0 {
			n = 1200 // which is staged
		}
		l.added(n)
		do(l.t, l.s, adding(n))
	}
	l.past = append(l.past, before)
}

func (l *life) added(n int) {
	for i := range n {
		l.now.last++
		l.now.numbers[l.now.last] = fmt.Sprint("K", 100+i)
	}
}

func (l *life) agreed(err error, want bool) {
	l.t.Helper()
	if (err == nil) != want || err != nil && !model.IsInput(err) {
		l.t.Fatalf("a change gave %v, and it should be accepted: %v", err, want)
	}
}

func (l *life) undo() {
	if len(l.past) == 0 {
		return
	}
	_, err := l.s.Undo(ctx)
	if errors.Is(err, model.ErrNothingToUndo) && l.did["rebuild"] > 0 {
		l.past = nil // a rebuilt store goes back to the backup that it was made of
		return
	}
	if err != nil {
		l.t.Fatal(err)
	}
	last := l.now.last
	l.now, l.past = l.past[len(l.past)-1], l.past[:len(l.past)-1]
	l.now.last = last // numbers stay given
	for i := range l.past {
		l.past[i].last = last
	}
}

// killed has another process work on the store until it kills itself.
func (l *life) killed() {
	shut(l.t, l.s)
	n := 1 + l.r.IntN(6)
	for range n {
		l.past = append(l.past, l.now.clone())
		l.added(1)
	}
	if !killed(l.t, "work", n, l.dir) {
		l.t.Fatal("the child was not killed")
	}
	l.open()
}

func (l *life) open() { l.s = opened(l.t, l.dir) }

func (l *life) backup() {
	l.day = l.day.AddDate(0, 0, l.r.IntN(2))
	if err := Daily(ctx, l.s, l.day, EachChange, NoProgress); err != nil {
		if doubt := (*DoubtError)(nil); !errors.As(err, &doubt) {
			l.t.Fatal(err)
		}
		return
	}
	path := filepath.Join(l.t.TempDir(), fmt.Sprint(len(l.kept), ".jsonl"))
	backup(l.t, l.s, path)
	l.kept[path] = l.now.clone()
}

func (l *life) restore() {
	if len(l.kept) == 0 {
		return
	}
	paths := slices.Sorted(maps.Keys(l.kept))
	path := paths[l.r.IntN(len(paths))]
	shut(l.t, l.s)
	restored(l.t, l.dir, path)
	l.now, l.past = l.kept[path].clone(), nil
	l.open()
}

// rebuild ruins what is there of Badger, and has the store made anew.
func (l *life) rebuild() {
	shut(l.t, l.s)
	spoilt(l.t, l.dir)
	r, err := Rebuild(ctx, l.dir, l.day, NoProgress)
	if err != nil {
		l.t.Fatal(err)
	}
	if len(r.Lost) > 0 {
		l.t.Fatalf("rebuilding says that this is lost: %q", r.Lost)
	}
	l.open()
}

// lose takes away all of Badger's files, or the journal: the one is enough.
func (l *life) lose() {
	shut(l.t, l.s)
	what, all := "badger", true
	if l.r.IntN(2) == 0 {
		what = "journal"
	} else if begin := in(l.t, filepath.Join(l.dir, "journal"))[0]; begin != "000000000000.jsonl" {
		all = strings.Contains(text(l.t, filepath.Join(l.dir, "journal", begin)), `"whole":true`)
	}
	if all {
		if err := os.RemoveAll(filepath.Join(l.dir, what)); err != nil {
			l.t.Fatal(err)
		}
	}
	l.open()
	if what == "badger" {
		l.past = undoable(l)
	}
}

// undoable is what can be undone still where all came from the journal: that
// may have been begun later than the store.
func undoable(l *life) []ledger {
	if title, _ := l.s.Undoable(); title == "" {
		return nil
	}
	return l.past
}

// Random changes, with kills, losses, backups, restores and rebuilds between
// them, against a plain map. The seed is printed; whoever wants the same again
// sets it here.
func TestALife(t *testing.T) {
	lives, steps := 6, 60
	if testing.Short() {
		lives, steps = 1, 30
	}
	did := map[string]int{}
	for range lives {
		seed := rand.Uint64()
		t.Logf("seed %d", seed)
		l := &life{t: t, r: rand.New(rand.NewPCG(seed, 0)), dir: filepath.Join(t.TempDir(), "store"), day: noon("2026-11-01"),
			now: ledger{numbers: map[model.Accession]string{}}, kept: map[string]ledger{}, did: map[string]int{}}
		l.open()
		ops := []struct {
			name   string
			weight int
			do     func()
		}{
			{"change", 10, l.change}, {"undo", 4, l.undo}, {"reopen", 1, func() { shut(t, l.s); l.open() }}, {"kill", 2, l.killed},
			{"backup", 2, l.backup}, {"restore", 1, l.restore}, {"rebuild", 1, l.rebuild}, {"lose", 1, l.lose},
		}
		var draw []int
		for i, op := range ops {
			draw = append(draw, slices.Repeat([]int{i}, op.weight)...)
		}
		for step := range steps {
			op := ops[draw[l.r.IntN(len(draw))]]
			op.do()
			did[op.name]++
			l.did[op.name]++
			if got, want := ledgerOf(l.s.Collection()).says(), l.now.says(); got != want {
				t.Fatalf("after step %d, %s, the store holds\n%s\nwant\n%s", step, op.name, got, want)
			}
			if _, err := l.s.Verify(); err != nil {
				t.Fatalf("after step %d, %s: %v", step, op.name, err)
			}
		}
		shut(t, l.s)
	}
	t.Logf("done: %v; nothing lost", did)
}
