package sample

import (
	"fmt"
	"reflect"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

func TestCopiesGoByTheirSeed(t *testing.T) {
	a, b, c := Copies(700, 3), Copies(700, 3), Copies(700, 4)
	if !reflect.DeepEqual(a, b) {
		t.Error("the same seed gives different copies")
	}
	if reflect.DeepEqual(a, c) {
		t.Error("another seed gives the same copies")
	}
	if more := Copies(900, 3); !reflect.DeepEqual(a, more[:700]) {
		t.Error("asking for more alters the first ones")
	}
}

func TestCopiesAreValidAndVaried(t *testing.T) {
	const n = 5000
	publishers, categories, schemes := map[string]int{}, map[string]bool{}, map[model.Scheme]bool{}
	for _, p := range presses() {
		schemes[p.scheme] = true
	}
	for i, en := range Copies(n, 1) {
		if err := en.Normalise(); err != nil {
			t.Errorf("entry %d: %v", i, err)
		}
		publishers[en.Publisher]++
		categories[en.Category] = true
	}
	if got := len(publishers); got != len(presses()) || got < 38 {
		t.Errorf("%d publishers of %d are used, wanted are about 40", got, len(presses()))
	}
	if first := publishers[harrow]; first < n/8 || first > n/3 {
		t.Errorf("the first publisher has %d of %d, wanted is about a fifth", first, n)
	}
	if len(categories) != len(kinds) || len(schemes) < 4 {
		t.Errorf("%d categories and %d schemes are used", len(categories), len(schemes))
	}
}

func TestWeightsAddUpToAHundred(t *testing.T) {
	sum := 0
	for _, k := range kinds {
		sum += k.weight
	}
	if sum != 100 {
		t.Errorf("the weights of the categories add up to %d", sum)
	}
}

func TestPublishersAreListedOnce(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range presses() {
		if seen[p.name] {
			t.Errorf("%q is listed twice", p.name)
		}
		seen[p.name] = true
	}
}

func TestCupboardStandsInOrder(t *testing.T) {
	for _, n := range []int{0, 1, 500, 5000} {
		c := Cupboard(n)
		if err := c.Check(); err != nil || c.Copies().Len() != n {
			t.Fatalf("%d copies of %d: %v", c.Copies().Len(), n, err)
		}
		l := ordering.Arrange(c)
		if w := len(l.Waiting()); w != (n+49)/100 {
			t.Errorf("of %d copies %d wait, wanted is one in a hundred", n, w)
		}
		last, stand := -1, 0
		for _, h := range l.Standing() {
			if h.Overfull() || h.Box.Length != model.MM(380) {
				t.Errorf("box %s of %s is overfull, or not of 380 mm", h.Box.Name, h.Box.Length)
			}
			for _, it := range h.Items {
				if r := l.Rank(it.Copy); r <= last {
					t.Errorf("copy %d stands in box %s behind one that files later", it.Copy, h.Box.Name)
				} else {
					last = r
				}
				stand++
			}
		}
		if stand+len(l.Waiting()) != n {
			t.Errorf("%d stand and %d wait, but there are %d", stand, len(l.Waiting()), n)
		}
		if m := l.Refile(); len(m.Pull) != 0 || len(m.Insert) != len(l.Waiting()) {
			t.Errorf("of %d copies %d are to be pulled and %d put in; only what waits was meant to move", n, len(m.Pull), len(m.Insert))
		}
	}
}

func BenchmarkCupboard(b *testing.B) {
	for _, n := range []int{500, 5000, 60000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				Cupboard(n)
			}
		})
	}
}
