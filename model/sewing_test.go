package model

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

func queued(c *Collection) (out []PatternID) {
	for _, q := range c.Queue() {
		out = append(out, q.Pattern)
	}
	return out
}

func TestTheQueue(t *testing.T) {
	c := do(t, NewCollection(), &Add{Entries: []Entry{entry("Quillon", "1", "Cape"), entry("Quillon", "2", ""), entry("Quillon", "3", "")}})
	for _, x := range []struct {
		ch   Change
		want string
	}{
		{&Enqueue{Item: Queued{Pattern: 1}}, "[1]"},
		{&Enqueue{Item: Queued{Pattern: 2}}, "[1 2]"},
		{&Enqueue{Item: Queued{Pattern: 3}, At: 1}, "[3 1 2]"},
		{&Enqueue{Item: Queued{Pattern: 1, Notes: "view B"}}, "[3 1 2]"}, // said anew, at its place
		{&Enqueue{Item: Queued{Pattern: 3}, At: 99}, "[1 2 3]"},
		{&Enqueue{Item: Queued{Pattern: 2}, At: 2}, "[1 2 3]"},
		{&Dequeue{Pattern: 2}, "[1 3]"},
		{&Sewn{Make{Pattern: 3}}, "[1]"}, // what is made is out of it
		{&Remove{Copies: []Accession{1}}, "[1]"},
		{&Dequeue{Pattern: 1}, "[]"},
	} {
		c = do(t, c, x.ch)
		if got := fmt.Sprint(queued(c)); got != x.want {
			t.Errorf("%s: the queue is %s, want %s", x.ch.Title(c), got, x.want)
		}
	}
	for _, ch := range []Change{
		&Enqueue{Item: Queued{Pattern: 1}}, &Enqueue{Item: Queued{Pattern: 2, By: "soon"}}, &Dequeue{Pattern: 2},
		&Sewn{Make{Pattern: 1}}, &Sewn{Make{ID: 9, Pattern: 2}}, &Sewn{Make{Pattern: 2, On: "yesterday"}},
		&SetGoal{Goal{Name: "all"}}, &SetGoal{Goal{Of: []string{"hat"}}}, &SetGoal{Goal{ID: 4, Name: "all", Of: []string{"hat"}}}, &SetGoal{Goal{Name: "all", Of: []string{" "}}},
	} {
		if _, _, err := c.Apply(ch, day); !IsInput(err) {
			t.Errorf("%s: got %v, want an error for the user", ch.Title(c), err)
		}
	}
}

// What was made says what of, also when the pattern has gone.
func TestWhatWasMadeStaysTrue(t *testing.T) {
	c := do(t, NewCollection(), &Add{Entries: []Entry{entry("Quillon", "1", "Cape")}}, &Sewn{Make{Pattern: 1, Better: " longer  hem"}}, &Remove{Copies: []Accession{1}})
	m := c.Makes().Get(1)
	if m.Title != "Quillon 1 Cape" || m.Better != "longer hem" || m.On != day || c.Pattern(1) != nil {
		t.Errorf("it says %+v", m)
	}
	again := *m
	again.Changed = "collar"
	c = do(t, c, &Sewn{again})
	if m := c.Makes().Get(1); m.Title != "Quillon 1 Cape" || m.Changed != "collar" {
		t.Errorf("said anew it says %+v", m)
	}
}

// Whatever is queued, moved and taken out, the queue is what a list kept by hand
// would be.
func TestTheQueueAgainstAList(t *testing.T) {
	var entries []Entry
	for i := range 5 {
		entries = append(entries, entry("Quillon", fmt.Sprint(i+1), ""))
	}
	start := do(t, NewCollection(), &Add{Entries: entries})
	rapid.Check(t, func(t *rapid.T) {
		c, list := start, []PatternID(nil)
		for range rapid.IntRange(1, 20).Draw(t, "steps") {
			p, at := PatternID(rapid.IntRange(1, 5).Draw(t, "pattern")), rapid.IntRange(0, 6).Draw(t, "at")
			was := -1
			var rest []PatternID
			for i, x := range list {
				if x == p {
					was = i
				} else {
					rest = append(rest, x)
				}
			}
			var ch Change = &Enqueue{Item: Queued{Pattern: p}, At: at}
			if rapid.IntRange(0, 3).Draw(t, "what") == 0 && was >= 0 {
				ch, list = &Dequeue{Pattern: p}, rest
			} else {
				to := len(rest)
				if at > 0 && at-1 < to {
					to = at - 1
				} else if at == 0 && was >= 0 {
					to = was
				}
				list = append(append(append([]PatternID(nil), rest[:to]...), p), rest[to:]...)
			}
			next, _, err := c.Apply(ch, day)
			if err != nil {
				t.Fatal(err)
			}
			c = next
			if got, want := fmt.Sprint(queued(c)), fmt.Sprint(list); got != want {
				t.Fatalf("%T of %d at %d: the queue is %s, want %s", ch, p, at, got, want)
			}
		}
	})
}
