package exchange

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/tuckrow/model"
)

// around are numbers at which some reader or other may come to an end: powers of
// ten, the limits there are, and what no whole number of 32 bits holds.
func around() []int64 {
	out := []int64{-1, 0, 1, 2}
	for _, n := range []int64{10, 60, 100, 200, 1000, 3000, 10_000, 31 * 24 * 3600, 100_000, 1_000_000, 10_000_000, 100_000_000, 10_000_000_000, math.MaxInt32, math.MaxUint32} {
		out = append(out, n-1, n, n+1)
	}
	return out
}

// names gives n names that differ.
func names(n int64) []string {
	out := make([]string, max(0, n))
	for i := range out {
		out[i] = fmt.Sprintf("no. %d", i)
	}
	return out
}

const few = 10_001 // of what is listed one by one, more is not tried

// extremeEntries set one field of an entry to a number, or to so many; false where
// that cannot be said in Go.
var extremeEntries = map[string]func(*model.Entry, int64) bool{
	"accession": func(e *model.Entry, n int64) bool {
		e.Accession = model.Accession(n)
		return n >= 0 && n <= math.MaxUint32
	},
	"pattern": func(e *model.Entry, n int64) bool {
		e.Pattern = model.PatternID(n)
		return n >= 0 && n <= math.MaxUint32
	},
	"year":           func(e *model.Entry, n int64) bool { e.Year = int(n); return true },
	"pages":          func(e *model.Entry, n int64) bool { e.Print.Pages = int(n); return true },
	"position":       func(e *model.Entry, n int64) bool { e.Box, e.Position = "1", int(n); return true },
	"thickness_mm":   func(e *model.Entry, n int64) bool { e.Thickness = model.Length(n); return true },
	"test_square_mm": func(e *model.Entry, n int64) bool { e.Print.Square = model.Length(n); return true },
	"square_side_mm": func(e *model.Entry, n int64) bool { e.Print.Side = model.Length(n); return true },
	"value":          func(e *model.Entry, n int64) bool { e.Value = model.Money(n); return true },
	"size_chart": func(e *model.Entry, n int64) bool {
		l := model.Length(n)
		e.Sizes = []model.Size{{Name: "10", Bust: l}, {Name: "12", Waist: l, Hip: l}}
		return true
	},
	"cloth_needed": func(e *model.Entry, n int64) bool {
		e.Needs = []model.Need{{Width: model.Length(n), Length: model.Length(n)}}
		return true
	},
	"sizes listed": func(e *model.Entry, n int64) bool {
		for _, name := range names(min(n, few)) {
			e.Sizes = append(e.Sizes, model.Size{Name: name, Bust: 1})
		}
		return n <= few
	},
	"needs listed": func(e *model.Entry, n int64) bool {
		for _, name := range names(min(n, few)) {
			e.Needs = append(e.Needs, model.Need{View: name, Width: 1, Length: 1})
		}
		return n <= few
	},
	"pieces listed": func(e *model.Entry, n int64) bool { e.Pieces = names(min(n, 1001)); return n <= 1001 },
	"pieces found": func(e *model.Entry, n int64) bool {
		found := &model.Pieces{}
		for _, name := range names(min(n, 1001)) {
			found.Found = append(found.Found, model.Piece{Name: name, State: model.PieceTorn})
		}
		e.Found = found
		return n <= 1001
	},
	"tags listed":       func(e *model.Entry, n int64) bool { e.Tags = names(min(n, 1001)); return n <= 1001 },
	"categories listed": func(e *model.Entry, n int64) bool { e.Also = names(min(n, 1001)); return n <= 1001 },
	"letters of a name": func(e *model.Entry, n int64) bool {
		e.Name = strings.Repeat("é", int(max(0, min(n, few))))
		e.Notes, e.Batch, e.Category = e.Name, e.Name, e.Name
		return n <= few
	},
	"letters of a box": func(e *model.Entry, n int64) bool {
		e.Box = strings.Repeat("4", int(max(0, min(n, few))))
		return n <= few
	},
	"a hook": func(e *model.Entry, n int64) bool { e.Hook = fmt.Sprintf("wall  a %d", n); return true },
}

// extremeChanges do one other thing with a number in it.
var extremeChanges = map[string]func(int64) model.Change{
	"length of a box": shelfWith(func(s *model.ShelfSpec, n int64) {
		s.Boxes = []model.BoxSpec{{Name: "1", Length: model.Length(n)}}
	}),
	"length of a box for oversize": shelfWith(func(s *model.ShelfSpec, n int64) {
		s.Oversize = []model.BoxSpec{{Name: "1", Length: model.Length(n)}}
	}),
	"divider":         shelfWith(func(s *model.ShelfSpec, n int64) { s.Settings.Divider = model.Length(n) }),
	"uncut":           shelfWith(func(s *model.ShelfSpec, n int64) { s.Settings.Thickness.Uncut = model.Length(n) }),
	"cut":             shelfWith(func(s *model.ShelfSpec, n int64) { s.Settings.Thickness.Cut = model.Length(n) }),
	"bulky":           shelfWith(func(s *model.ShelfSpec, n int64) { s.Settings.Thickness.Bulky = model.Length(n) }),
	"working space":   shelfWith(func(s *model.ShelfSpec, n int64) { s.Settings.Working = model.Space{Fixed: model.Length(n)} }),
	"working share":   shelfWith(func(s *model.ShelfSpec, n int64) { s.Settings.Working = model.Space{Percent: float64(n)} }),
	"range cards":     shelfWith(func(s *model.ShelfSpec, n int64) { s.Settings.RangeCardEvery = int(n) }),
	"publisher cards": shelfWith(func(s *model.ShelfSpec, n int64) { s.Settings.PublisherCardFrom = int(n) }),
	"pockets": shelfWith(func(s *model.ShelfSpec, n int64) {
		s.Binders = []model.BinderSpec{{Category: "Coats", Pockets: int(n)}}
	}),
	"hooks in a row":     shelfWith(func(s *model.ShelfSpec, n int64) { s.Hooks = []model.HookSpec{{Name: "door", Hooks: int(n), Each: 1}} }),
	"patterns on a hook": shelfWith(func(s *model.ShelfSpec, n int64) { s.Hooks = []model.HookSpec{{Name: "door", Hooks: 1, Each: int(n)}} }),
	"pitch of a label": shelfWith(func(s *model.ShelfSpec, n int64) {
		s.Labels = []model.LabelSheet{{Name: "l", Paper: "A4", Columns: 1, Rows: 1, Width: 100, Height: 100, PitchX: model.Length(n), PitchY: model.Length(n)}}
	}),
	"worth of a group":    func(n int64) model.Change { return &model.SetWorth{Of: "Coats", Each: model.Money(n)} },
	"expected in a batch": func(n int64) model.Change { return &model.Expect{Batch: "hall", About: int(n)} },
	"arriving in a year":  func(n int64) model.Change { return &model.SetPerYear{Copies: int(n)} },
	"measure of a person": func(n int64) model.Change {
		return &model.SetPerson{Person: model.Person{Name: "I", Bust: model.Length(n), Height: model.Length(n)}}
	},
	"cloth": func(n int64) model.Change {
		return &model.SetCloth{Cloth: model.Cloth{Name: "wool", Width: model.Length(n), Length: model.Length(n)}}
	},
}

func shelfWith(set func(*model.ShelfSpec, int64)) func(int64) model.Change {
	return func(n int64) model.Change {
		s := model.ShelfSpec{Settings: model.DefaultSettings()}
		set(&s, n)
		return &model.SetShelf{Spec: s}
	}
}

// What the model takes of a number, both formats bring back; and what a column
// reads, the model takes.
func TestExtremesOfACopyComeBack(t *testing.T) {
	for what, set := range extremeEntries {
		t.Run(what, func(t *testing.T) {
			took := 0
			for _, n := range around() {
				en := model.Entry{Publisher: "Quillon", Number: "6123"}
				if !set(&en, n) {
					continue
				}
				_, _, err := model.NewCollection().Apply(furnishing(en), day)
				if f, ok := model.FieldNamed(what); ok && f.Set(&model.Entry{Box: en.Box}, f.Get(&en)) == nil && n > 0 && err != nil {
					t.Errorf("a spreadsheet may say %d, and then: %v", n, err)
				}
				if err != nil {
					if !model.IsInput(err) {
						t.Errorf("%d: %v, want one for the user", n, err)
					}
					continue
				}
				took++
				bothBring(t, n, after(t, model.NewCollection(), furnishing(en)))
			}
			if took == 0 {
				t.Error("nothing was taken at all")
			}
		})
	}
}

// furnishing adds a copy and the box or the row of hooks it names.
func furnishing(en model.Entry) *model.Add {
	add := &model.Add{Entries: []model.Entry{en}}
	if en.Box != "" {
		add.Boxes = []model.BoxSpec{{Name: en.Box, Length: model.MM(380)}}
	}
	if at := strings.LastIndexByte(en.Hook, ' '); at > 0 {
		var n int
		if _, err := fmt.Sscan(en.Hook[at:], &n); err != nil {
			panic(err)
		}
		add.Hooks = []model.HookSpec{{Name: en.Hook[:at], Hooks: n, Each: 3}}
	}
	return add
}

// bothBring sends a cupboard through both formats, and its shelf through a file.
func bothBring(t *testing.T, n int64, c *model.Collection) {
	t.Helper()
	file, lines := csvOf(t, c), jsonlOf(t, c)
	back, im, _ := taken(t, model.NewCollection(), file, "")
	if got := csvOf(t, back); got != file || len(im.Rejected) > 0 {
		t.Errorf("%d comes back from CSV as\n%.300s\nit was\n%.300s\nrejected %.300s", n, got, file, rejected(im))
	}
	whole, err := ReadJSONL(strings.NewReader(lines))
	if err != nil {
		t.Errorf("%d does not come back from JSON Lines: %v", n, err)
	} else if got := jsonlOf(t, whole); got != lines {
		t.Errorf("%d comes back from JSON Lines as\n%.300s\nit was\n%.300s", n, got, lines)
	}
	var shelf, again bytes.Buffer
	if err := WriteShelf(&shelf, c.ShelfSpec()); err != nil {
		t.Fatal(err)
	}
	spec, err := ReadShelf(bytes.NewReader(shelf.Bytes()))
	if err != nil {
		t.Errorf("%d does not come back from a shelf file: %v", n, err)
		return
	}
	if err := WriteShelf(&again, after(t, c, &model.SetShelf{Spec: spec}).ShelfSpec()); err != nil || again.String() != shelf.String() {
		t.Errorf("%d comes back from a shelf file as\n%s\nit was\n%s\n%v", n, again.String(), shelf.String(), err)
	}
}

// What is not in CSV comes back from JSON Lines, and furniture from a shelf file.
func TestExtremesOfTheRestComeBack(t *testing.T) {
	for what, change := range extremeChanges {
		t.Run(what, func(t *testing.T) {
			took := 0
			for _, n := range around() {
				c, _, err := model.NewCollection().Apply(change(n), day)
				if err != nil {
					if !model.IsInput(err) {
						t.Errorf("%d: %v, want one for the user", n, err)
					}
					continue
				}
				took++
				bothBring(t, n, c)
			}
			if took == 0 {
				t.Error("nothing was taken at all")
			}
		})
	}
}

// One number as high as can be does not end the counting: it goes on below. A
// spreadsheet loses only the rows that need a number of a pattern then.
func TestBehindTheHighestNumber(t *testing.T) {
	last := model.Entry{Accession: model.MostNumber, Pattern: model.MostNumber, Publisher: "Quillon", Number: "1"}
	full := after(t, model.NewCollection(), &model.Add{Entries: []model.Entry{{Publisher: "Quillon", Number: "7"}, last}})
	for n := range model.Accession(3) {
		full = after(t, full, &model.Add{Entries: []model.Entry{{Publisher: "Quillon", Number: "8", Name: strings.Repeat("x", int(n)+1)}}})
		if cp := full.Copy(2 + n); cp == nil || cp.Pattern != model.PatternID(2+n) {
			t.Fatalf("copy %d is %+v, want one of pattern %d", 2+n, cp, 2+n)
		}
	}
	bothBring(t, model.MostNumber, full)

	file := rows("accession,pattern,publisher,number", "9999999,9999999,Quillon,1", ",5,Quillon,2", "4,,Quillon,3", "6,6,Quillon,4", "7,9999999,Quillon,1")
	c, im, _ := taken(t, model.NewCollection(), file, "")
	if got := c.Copies().Len(); got != 4 || c.Copy(1) == nil || len(im.Rejected) != 1 {
		t.Fatalf("%d copies of 5 rows are taken in, rejected are\n%s", got, rejected(im))
	}
	if line := im.Rejected[0].Line; line != 4 {
		t.Errorf("rejected is line %d, want 4:\n%s", line, rejected(im))
	}
	bothBring(t, model.MostNumber, c)
}
