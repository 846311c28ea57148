package reading_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"unicode"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/reading"
)

const day model.Date = "2026-03-01"

// failer is what *testing.T, *testing.B and *rapid.T share.
type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

func do(t failer, c *model.Collection, changes ...model.Change) *model.Collection {
	t.Helper()
	for _, ch := range changes {
		next, _, err := c.Apply(ch, day)
		if err != nil {
			t.Fatalf("%s: %v", ch.Title(c), err)
		}
		if err := next.Check(); err != nil {
			t.Fatalf("%s: %v", ch.Title(c), err)
		}
		c = next
	}
	return c
}

// boxOne is the box that is read; one stands before it, one behind.
const boxOne model.BoxID = 2

func shelf() *model.SetShelf {
	s := model.ShelfSpec{Settings: model.DefaultSettings(), Hooks: []model.HookSpec{{Name: "door", Hooks: 9, Each: 3}}}
	for _, name := range []string{"0", "1", "2"} {
		s.Boxes = append(s.Boxes, model.BoxSpec{Name: name, Length: model.MM(2000)})
	}
	return &model.SetShelf{Spec: s}
}

// readAll reads the box named with what a walk found.
func readAll(t failer, c *model.Collection, box string, walk ...string) *reading.Report {
	t.Helper()
	b, err := c.Shelf().BoxNamed(box)
	if err != nil {
		t.Fatalf("%v", err)
	}
	r := reading.New(ordering.Arrange(c), b)
	for _, text := range walk {
		r.Read(text)
	}
	return r.Report()
}

func list(s string) []string {
	var out []string
	for _, x := range strings.Split(s, ",") {
		if x = strings.TrimSpace(x); x != "" && x != "none" {
			out = append(out, x)
		}
	}
	return out
}

// paper is a case of the file.
type paper struct {
	name              string
	atLine            int
	add               model.Add
	out, walk, says   []string
	missing, recorded string
	hanging           int
}

func cases(t *testing.T) []paper {
	b, err := os.ReadFile("testdata/readings.txt")
	if err != nil {
		t.Fatal(err)
	}
	var all []paper
	for n, line := range strings.Split(string(b), "\n") {
		if line == "" || strings.HasPrefix(line, "# ") || line == "#" {
			continue
		}
		if name, ok := strings.CutPrefix(line, "= "); ok {
			all = append(all, paper{name: name, atLine: n + 1})
			continue
		}
		all[len(all)-1].line(line)
	}
	return all
}

func (p *paper) line(line string) {
	key, value, _ := strings.Cut(line, ": ")
	switch {
	case p.walk == nil && (strings.HasPrefix(key, "box ") || key == "pile" || key == "hook"):
		for i, x := range list(value) {
			en := entry(x)
			switch key {
			case "hook":
				p.hanging++
				en.Medium, en.Hook = model.Printed, fmt.Sprintf("door %d", p.hanging)
			case "pile":
			default:
				en.Box, en.Position = strings.TrimPrefix(key, "box "), i+1
			}
			p.add.Entries = append(p.add.Entries, en)
		}
	case p.walk == nil && key == "out":
		p.out = list(value)
	case key == "read":
		p.walk = list(value)
	case key == "missing":
		p.missing = value
	case key == "recorded":
		p.recorded = value
	default:
		p.says = append(p.says, line)
	}
}

func entry(text string) model.Entry {
	en := model.Entry{Publisher: "Quillon", Number: text}
	if pub, rest, ok := strings.Cut(text, ":"); ok {
		en.Publisher, en.Number = pub, rest
	}
	if strings.IndexFunc(en.Number, unicode.IsDigit) < 0 {
		en.Number, en.Name = "", en.Number
	}
	return en
}

func numbers(list []model.Accession) string {
	if len(list) == 0 {
		return "none"
	}
	var out []string
	for _, a := range list {
		out = append(out, fmt.Sprintf("#%d", a))
	}
	return strings.Join(out, ", ")
}

func say(f reading.Finding) string {
	s := string(f.Kind)
	if f.Kind == reading.Gap && f.Copy != 0 {
		s += fmt.Sprintf(" for #%d", f.Copy)
	}
	if f.Fits {
		s += ", fits"
	}
	if f.WasOut && f.Kind != reading.Gap {
		s += ", was out"
	}
	if len(f.Could) > 0 {
		s += ", " + strings.ReplaceAll(numbers(f.Could), ", ", " or ")
	}
	if len(f.Skipped) > 0 {
		s += ", skipped " + numbers(f.Skipped)
	}
	if f.Belongs != "" {
		s += "; belongs " + f.Belongs
	}
	return s
}

func TestReadingsOfTheFile(t *testing.T) {
	all := cases(t)
	if len(all) < 20 {
		t.Fatalf("the file has %d cases, it used to have 21", len(all))
	}
	for _, p := range all {
		t.Run(p.name, func(t *testing.T) {
			c := do(t, model.NewCollection(), shelf(), &p.add)
			for _, o := range p.out {
				for _, cp := range c.Copies().All() {
					if c.PatternOf(cp.Accession).Number == o || fmt.Sprintf("#%d", cp.Accession) == o {
						c = do(t, c, &model.TakeOut{Copy: cp.Accession})
					}
				}
			}
			rep := readAll(t, c, "1", p.walk...)
			var got []string
			for i, f := range rep.Findings {
				got = append(got, p.walk[i]+": "+say(f))
			}
			if !slices.Equal(got, p.says) {
				t.Errorf("line %d: the readings are\n  %s\nwant\n  %s", p.atLine, strings.Join(got, "\n  "), strings.Join(p.says, "\n  "))
			}
			if got := numbers(rep.Missing); got != p.missing {
				t.Errorf("missing: %s, want %s", got, p.missing)
			}
			if got := recorded(t, c, rep); got != p.recorded {
				t.Errorf("recorded: %s, want %s", got, p.recorded)
			}
		})
	}
}

func recorded(t *testing.T, c *model.Collection, rep *reading.Report) string {
	ch, err := rep.Record()
	switch {
	case err != nil && model.IsInput(err):
		return "refused"
	case err != nil:
		t.Fatal(err)
	case ch == nil:
		return "as it was"
	}
	row := do(t, c, ch).Row(rep.Box.ID)
	return strings.Trim(fmt.Sprint(row), "[]")
}

// Of two that stand the wrong way round nobody knows which is wrong: it is said of the
// second, while it is in the hand, and of no other.
func TestReaderSaysAtOnceWhatIsOutOfOrder(t *testing.T) {
	add := &model.Add{}
	for _, n := range []string{"4100", "4112", "4120", "4130", "4140"} {
		en := entry(n)
		en.Box = "1"
		add.Entries = append(add.Entries, en)
	}
	c := do(t, model.NewCollection(), shelf(), add)
	b, _ := c.Shelf().BoxNamed("1")
	for _, walk := range []struct{ reads, crosses string }{
		{"4100 4112 4120 4130 4140", "||||"},
		{"4100 4120 4112 4130 4140", "||in this box, behind 4100, before 4120||"},
		{"4120 4112 4100", "|in this box, at the front, before 4120|in this box, at the front, before 4112"},
		{"4140 4100 4112 4120 4130", "|in this box, at the front, before 4140|||"}, // then 4140 alone is wrong
		{"4100 4112 4130 4140 4120", "||||"},                                       // that is misplaced, and said so as such
	} {
		r := reading.New(ordering.Arrange(c), b)
		var got []string
		for _, text := range strings.Fields(walk.reads) {
			got = append(got, r.Read(text).Crosses)
		}
		if strings.Join(got, "|") != walk.crosses {
			t.Errorf("%s: %q, want %q", walk.reads, strings.Join(got, "|"), walk.crosses)
		}
	}
}

// What a screen is told envelope by envelope.
func TestReaderSaysAtOnce(t *testing.T) {
	add := &model.Add{}
	for _, n := range []string{"100", "101", "102", "103", "104"} {
		en := entry(n)
		en.Box = "1"
		add.Entries = append(add.Entries, en)
	}
	c := do(t, model.NewCollection(), shelf(), add)
	b, _ := c.Shelf().BoxNamed("1")
	r := reading.New(ordering.Arrange(c), b)
	for _, step := range []struct{ read, says string }{
		{"100", "in place"},
		{"104", "in place, skipped #2, #3, #4"}, // for all one can know so far
		{"101", "in place"},                     // now 104 is the one that is wrong
		{"103", "in place, skipped #3"},
		{"zzz", "unlisted"},
		{"102", "in place"}, // as good as 103, which was read before it
	} {
		if got := say(r.Read(step.read)); got != step.says {
			t.Errorf("read %s: %s, want %s", step.read, got, step.says)
		}
	}
	if got := say(r.Report().Findings[1]); got != "misplaced; belongs in this box, at the back, behind 102" {
		t.Errorf("in the end 104 is %s", got)
	}
	for r.Count() > 2 {
		r.Unread()
	}
	if got := say(r.Read("102")); got != "in place, skipped #2" {
		t.Errorf("after some were taken back, 102 is %s", got)
	}
	for r.Unread() {
	}
	if _, err := r.Report().Record(); !model.IsInput(err) {
		t.Errorf("a box in which nothing was read is recorded (%v)", err)
	}
}

// What is recorded behind the end of a walk is kept in its order, what is out among
// it at its place; what was found early is not there twice.
func TestRecordSoFar(t *testing.T) {
	add := &model.Add{}
	for _, n := range []string{"100", "101", "102", "103", "104", "105"} {
		en := entry(n)
		en.Box = "1"
		add.Entries = append(add.Entries, en)
	}
	c := do(t, model.NewCollection(), shelf(), add, &model.TakeOut{Copy: 5})
	for _, x := range []struct {
		walk            []string
		unread, missing string
		row             string // empty: as it was
		part            bool
	}{
		{[]string{"100"}, "#2, #3, #4, #6", "none", "", false},
		{[]string{"100", "102"}, "#4, #6", "#2", "1 3 4 5 6", true},
		{[]string{"104", "100", "101"}, "#3, #4, #6", "none", "5 1 2 3 4 6", true},
		{[]string{"100", "101", "-"}, "#3, #4, #6", "none", "1 2 5 3 4 6", true},
		{[]string{"zzz"}, "#1, #2, #3, #4, #6", "none", "", false},
		{[]string{"100", "101", "102", "105"}, "none", "#4", "1 2 3 5 6", false},
	} {
		rep := readAll(t, c, "1", x.walk...)
		if got := numbers(rep.Unread); got != x.unread {
			t.Errorf("%v: unread %q, want %q", x.walk, got, x.unread)
		}
		ch, err := rep.RecordSoFar()
		switch {
		case err != nil:
			t.Errorf("%v: %v", x.walk, err)
		case ch == nil:
			if x.row != "" {
				t.Errorf("%v: nothing is recorded, want %q", x.walk, x.row)
			}
		default:
			got := strings.Trim(fmt.Sprint(do(t, c, ch).Row(rep.Box.ID)), "[]")
			if got != x.row || numbers(ch.Missing) != x.missing || ch.Part != x.part {
				t.Errorf("%v: row %q, missing %q, part %v; want %q, %q, %v", x.walk, got, numbers(ch.Missing), ch.Part, x.row, x.missing, x.part)
			}
		}
	}
	if _, err := readAll(t, c, "1").RecordSoFar(); !model.IsInput(err) {
		t.Errorf("nothing read is recorded (%v)", err)
	}
}
