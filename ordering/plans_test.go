package ordering_test

import (
	"cmp"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// planCase is one case of testdata/plans.txt, which says how it is written.
type planCase struct {
	name   string
	shelf  model.ShelfSpec
	add    model.Add
	stand  model.Stand
	decide model.Decide
	lost   []model.Accession          // looked for and not found
	growth int                        // months an even split reckons with
	over   int                        // boxes it is spread over
	number map[string]model.Accession // which copy bears a number
	expect []expectation
}

type expectation struct {
	line       int
	what, want string
}

func TestPlans(t *testing.T) {
	text, err := os.ReadFile("testdata/plans.txt")
	if err != nil {
		t.Fatal(err)
	}
	var cases []*planCase
	for i, line := range strings.Split(string(text), "\n") {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		word, rest, ok := strings.Cut(line, ":")
		if rest = strings.Join(strings.Fields(rest), " "); !ok || rest == "" {
			t.Fatalf("line %d: %q says nothing; write a word, a colon, and what is said", i+1, line)
		}
		if word == "case" {
			cases = append(cases, &planCase{name: rest, shelf: bareShelf(), number: map[string]model.Accession{}})
		} else if len(cases) == 0 {
			t.Fatalf("line %d: %q comes before the first case", i+1, line)
		} else if err := cases[len(cases)-1].read(i+1, word, rest); err != nil {
			t.Fatalf("line %d: %v", i+1, err)
		}
	}
	for _, c := range cases {
		t.Run(c.name, c.check)
	}
}

// read takes one line of a case.
func (c *planCase) read(line int, word, rest string) (err error) {
	name, value, _ := strings.Cut(rest, " = ")
	switch word {
	case "boxes":
		for _, mm := range strings.Fields(rest) {
			l, err := model.ParseLength(mm)
			if err != nil {
				return err
			}
			c.shelf.Boxes = append(c.shelf.Boxes, model.BoxSpec{Name: fmt.Sprint(len(c.shelf.Boxes) + 1), Length: l})
		}
	case "working":
		c.shelf.Settings.Working, err = model.ParseSpace(rest)
	case "locked":
		err = c.lock(strings.Fields(rest))
	case "arrived":
		var which []model.Accession
		which, err = c.numbers(value)
		for _, a := range which {
			c.add.Entries[a-1].Added = model.Date(name)
		}
	case "growth":
		c.growth, err = strconv.Atoi(rest)
	case "missing":
		c.lost, err = c.numbers(rest)
	case "over":
		c.over, err = strconv.Atoi(rest)
	case "divider":
		c.shelf.Settings.Divider, err = model.ParseLength(rest)
	case "section":
		title, newBox := strings.CutSuffix(name, " new box")
		c.shelf.Sections = append(c.shelf.Sections, model.SectionSpec{Title: title, NewBox: newBox, Publishers: strings.Split(value, ", ")})
	case "row":
		err = c.readCopy(strings.Fields(rest))
	case "stands":
		row := model.NamedRow{Box: name}
		row.Copies, err = c.numbers(value)
		c.stand.Rows = append(c.stand.Rows, row)
	case "wall":
		var first []model.Accession
		if first, err = c.numbers(value); len(first) == 1 {
			c.decide.Firsts = append(c.decide.Firsts, model.NamedWall{Box: name, First: first[0]})
		}
	case "split", "loads", "even", "least-moved", "moved", "labels", "finding", "refiled", "pull", "insert", "kept":
		c.expect = append(c.expect, expectation{line, word, rest})
	default:
		err = fmt.Errorf("the word %q is not known", word)
	}
	return err
}

// lock locks boxes by name.
func (c *planCase) lock(names []string) error {
	for _, n := range names {
		i := slices.IndexFunc(c.shelf.Boxes, func(b model.BoxSpec) bool { return b.Name == n })
		if i < 0 {
			return fmt.Errorf("there is no box %q above", n)
		}
		c.shelf.Boxes[i].Locked = true
	}
	return nil
}

func (c *planCase) readCopy(words []string) error {
	if len(words) < 3 {
		return fmt.Errorf("a row is a number, a publisher and a thickness")
	}
	if _, twice := c.number[words[0]]; twice {
		return fmt.Errorf("the number %q is there twice", words[0])
	}
	mm, err := model.ParseLength(words[len(words)-1])
	en := model.Entry{Number: words[0], Publisher: strings.Join(words[1:len(words)-1], " "), Thickness: mm}
	c.add.Entries = append(c.add.Entries, en)
	c.number[words[0]] = model.Accession(len(c.add.Entries))
	return err
}

func (c *planCase) numbers(text string) (out []model.Accession, err error) {
	for _, n := range strings.Fields(text) {
		a, ok := c.number[n]
		if !ok {
			return nil, fmt.Errorf("no row above has the number %q", n)
		}
		out = append(out, a)
	}
	if out == nil {
		err = fmt.Errorf("name at least one number, behind \" = \"")
	}
	return out, err
}

func (c *planCase) check(t *testing.T) {
	if len(c.expect) == 0 {
		t.Fatal("nothing is expected of it")
	}
	cupboard := do(t, model.NewCollection(), &model.SetShelf{Spec: c.shelf}, &c.add, &c.stand, &c.decide, &model.Stand{Missing: c.lost})
	l, m := askAll(t, cupboard)
	split, even := l.Split(ordering.Fewest), l.SplitWith(ordering.Even, ordering.Options{GrowthMonths: c.growth, Boxes: c.over})
	least := l.Split(ordering.LeastMoved)
	var pull, insert []*ordering.Item
	for _, p := range m.Pull {
		pull = append(pull, p.Item)
	}
	for _, in := range m.Insert {
		insert = append(insert, in.Item)
	}
	for _, e := range c.expect {
		got := map[string]func() string{
			"split":       func() string { return boxesText(split) },
			"even":        func() string { return boxesText(even) },
			"least-moved": func() string { return boxesText(least) },
			"moved":       func() string { return fmt.Sprint(l.Compare(least).Moved) },
			"labels":      func() string { return fmt.Sprint(l.Compare(least).Labels) },
			"finding":     func() string { return cmp.Or(strings.Join(split.Findings, " / "), "-") },
			"refiled":     func() string { return boxesText(m.Plan) },
			"loads":       func() string { return loadsText(split) },
			"pull":        func() string { return rowText(pull) },
			"insert":      func() string { return rowText(insert) },
			"kept":        func() string { return fmt.Sprint(m.Kept) },
		}[e.what]()
		if got != e.want {
			t.Errorf("line %d: %s is %q, expected %q", e.line, e.what, got, e.want)
		}
	}
}

func rowText(row []*ordering.Item) string {
	if len(row) == 0 {
		return "-"
	}
	out := make([]string, len(row))
	for i, it := range row {
		out[i] = it.Pattern.Number
	}
	return strings.Join(out, " ")
}

func boxesText(p ordering.Plan) string {
	out := make([]string, len(p.Boxes))
	for i := range p.Boxes {
		var row []*ordering.Item
		for _, placed := range p.Boxes[i].Items {
			row = append(row, placed.Item)
		}
		out[i] = rowText(row)
	}
	return strings.Join(out, " | ")
}

func loadsText(p ordering.Plan) string {
	out := make([]string, len(p.Boxes))
	for i := range p.Boxes {
		out[i] = strings.TrimSuffix(p.Boxes[i].Load.String(), " mm")
	}
	return strings.Join(out, " ")
}
