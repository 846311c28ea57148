package fit

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
)

func in(f float64) model.Length { return inches(f) }

func person(bust, waist, hip float64) *model.Person {
	return &model.Person{Name: "Ada", Bust: in(bust), Waist: in(waist), Hip: in(hip)}
}

func sleeve(sizeRange string, year int) *model.Pattern {
	return &model.Pattern{SizeRange: sizeRange, Year: year}
}

// The misses' table of shared/checks.md (two copies agree to 20), inches: a
// body of just these measures has that size by each.
func TestEveryValueOfTheMissesTable(t *testing.T) {
	sizes := []string{"6", "8", "10", "12", "14", "16", "18", "20"}
	bust := []float64{30.5, 31.5, 32.5, 34, 36, 38, 40, 42}
	waist := []float64{23, 24, 25, 26.5, 28, 30, 32, 34}
	hip := []float64{32.5, 33.5, 34.5, 36, 38, 40, 42, 44}
	for i, size := range sizes {
		a := Try(person(bust[i], waist[i], hip[i]), sleeve("6-20", 1980), nil, nil)
		if a.Verdict != Fits || a.Sure != ByDefault || len(a.Readings) != 1 || len(a.Readings[0].Matches) != 3 {
			t.Fatalf("size %s: %+v", size, a)
		}
		for _, m := range a.Readings[0].Matches {
			if m.Size != size || m.Lower != size || m.Upper != size {
				t.Errorf("%s of size %s: %+v", m.Measure, size, m)
			}
		}
	}
}

// Size 12 was bust 30 before 1956, 32 from 1956, 34 from late 1967
// (shared/checks.md): what an undated 12 is meant for nobody can say.
func TestASizeNumberOfEachTime(t *testing.T) {
	for _, x := range []struct {
		bust float64
		year int
		want Verdict
		sure Sure
	}{
		{30, 1955, Fits, Rough}, {30, 1956, No, Rough}, {30, 1968, No, ByDefault},
		{32, 1955, No, Rough}, {32, 1956, Fits, Rough}, {32, 1966, Fits, Rough}, {32, 1968, No, ByDefault},
		{34, 1966, No, Rough}, {34, 1968, Fits, ByDefault}, {34, 2020, Fits, ByDefault},
		{32, 1967, Unknown, NotSure}, {34, 1967, Unknown, NotSure}, {40, 1967, No, NotSure},
		{34, 0, Unknown, NotSure}, {32, 0, Unknown, NotSure}, {30, 0, Unknown, NotSure}, {44, 0, No, NotSure},
	} {
		a := Try(person(x.bust, 0, 0), sleeve("12", x.year), nil, nil)
		if a.Verdict != x.want || a.Sure != x.sure {
			t.Errorf("bust %v in a 12 of %d: %s, %s, want %s, %s", x.bust, x.year, a.Verdict, a.Sure, x.want, x.sure)
		}
		if want := map[int]int{0: 3, 1967: 2}[x.year]; want != 0 && (len(a.Readings) != want || !strings.Contains(a.Lacks, "year")) {
			t.Errorf("a 12 of %d has %d readings, and lacks %q", x.year, len(a.Readings), a.Lacks)
		}
	}
	// Of the older sizes waist and hip are not known, and nothing is said of them.
	if a := Try(person(0, 26.5, 36), sleeve("12", 1950), nil, nil); a.Verdict != Unknown || a.Sure != NotSure {
		t.Errorf("waist and hip alone by a size of 1950: %+v", a)
	}
	guessed := sleeve("12", 1970)
	guessed.DatedBy = "guess"
	if a := Try(person(34, 0, 0), guessed, nil, nil); a.Verdict != Fits || a.Sure != Rough {
		t.Errorf("by a guessed year: %s, %s", a.Verdict, a.Sure)
	}
}

func TestWhatTheSleeveSays(t *testing.T) {
	own, err := model.ParseSizes("10 | 32 1/2 in | 25 in | 34 1/2 in; 12 | 34 in | 26 1/2 in | 36 in; 14 | 36 in | 28 in | 38 in; 16 | 38 in | 30 in | 40 in")
	if err != nil {
		t.Fatal(err)
	}
	cut := func(state model.Cut, left string) *model.Copy { return &model.Copy{Cut: state, Left: left} }
	for _, x := range []struct {
		what    string
		who     *model.Person
		pattern model.Pattern
		copy    *model.Copy
		by      []Measure
		want    string // verdict, how sure, words
	}{
		{"just a size", person(34, 26.5, 36), model.Pattern{Sizes: own}, nil, nil,
			"fits, as printed: bust 34 in: 12; waist 26 1/2 in: 12; hip 36 in: 12 (the sleeve's own chart)"},
		{"between two", person(35.5, 0, 0), model.Pattern{Sizes: own}, nil, nil, "fits, as printed: bust 35 1/2 in: between 12 and 14, nearer 14 (the sleeve's own chart)"},
		{"just as near to both", person(35, 0, 0), model.Pattern{Sizes: own}, nil, nil, "fits, as printed: bust 35 in: between 12 and 14, nearer 14 (the sleeve's own chart)"},
		{"two sizes", person(34, 26.5, 40), model.Pattern{Sizes: own}, nil, nil,
			"blend, as printed: bust 34 in: 12; waist 26 1/2 in: 12; hip 40 in: 16 (the sleeve's own chart)"},
		{"too large", person(34, 26.5, 41.25), model.Pattern{Sizes: own}, nil, nil,
			"no, as printed: bust 34 in: 12; waist 26 1/2 in: 12; hip 41 1/4 in: larger than 16 (the sleeve's own chart)"},
		{"half a step too large", person(39, 0, 0), model.Pattern{Sizes: own}, nil, nil, "fits, as printed: bust 39 in: 16 (the sleeve's own chart)"},
		{"too small", person(31, 0, 0), model.Pattern{Sizes: own}, nil, nil, "no, as printed: bust 31 in: smaller than 10 (the sleeve's own chart)"},
		{"the hip does not matter", person(34, 26.5, 50), model.Pattern{Sizes: own}, nil, []Measure{Bust},
			"fits, as printed: bust 34 in: 12 (the sleeve's own chart)"},
		{"sold in two sleeves", person(38, 0, 0), model.Pattern{Sizes: own, SizeRange: "10-14"}, nil, nil,
			"no, as printed: bust 38 in: larger than 14 (the sleeve's own chart)"},
		{"cut away", person(36, 0, 0), model.Pattern{Sizes: own}, cut(model.FullyCut, "10-12"), nil,
			"no, as printed: bust 36 in: 14, which is not left (the sleeve's own chart)"},
		{"still left", person(34, 0, 0), model.Pattern{Sizes: own}, cut(model.FullyCut, "10-12"), nil, "fits, as printed: bust 34 in: 12 (the sleeve's own chart)"},
		{"cut, nobody knows where", person(34, 0, 0), model.Pattern{Sizes: own}, cut(model.PartlyCut, ""), nil,
			"unknown, not known: bust 34 in: 12 (the sleeve's own chart) | not known: it was cut, and which sizes are left is not noted"},
		{"cut, and no size fits anyway", person(50, 0, 0), model.Pattern{Sizes: own}, cut(model.FullyCut, ""), nil,
			"no, as printed: bust 50 in: larger than 16 (the sleeve's own chart)"},
		{"one size, cut", person(34, 0, 0), model.Pattern{SizeRange: "12", Year: 1970}, cut(model.FullyCut, ""), nil,
			"fits, by a default: bust 34 in: 12 (the misses' table, as sized from late 1967 on)"},
		{"a bust on the sleeve", person(34, 26.5, 0), model.Pattern{SizeRange: "Bust 34", Year: 1940}, nil, nil,
			"fits, as printed: bust 34 in: Bust 34 (the bust that the sleeve gives)"},
		{"letters", person(34, 0, 0), model.Pattern{SizeRange: "S-L", Year: 1999}, nil, nil,
			"unknown, not known: not known: what body S-L is drawn for is not known; note the sleeve's chart"},
		{"children's", person(30.5, 0, 0), model.Pattern{SizeRange: "2-6", Year: 1999}, nil, nil,
			"unknown, not known: not known: what body 2-6 is drawn for is not known; note the sleeve's chart"},
		{"nothing noted", person(34, 0, 0), model.Pattern{}, nil, nil, "unknown, not known: not known: the sizes of the sleeve are not noted"},
		{"not measured", person(0, 0, 0), model.Pattern{Sizes: own}, nil, nil, "unknown, not known: not known: no measure was taken that the chart gives"},
		{"sizes beyond the table", person(40, 0, 0), model.Pattern{SizeRange: "16-24", Year: 1999}, nil, nil,
			"fits, by a default: bust 40 in: 18 (the misses' table, as sized from late 1967 on)"},
		{"older", person(35, 0, 0), model.Pattern{SizeRange: "10-18", Year: 1950}, nil, nil,
			"fits, rough: bust 35 in: between 16 and 18, nearer 18 (the misses' table, as sized before 1956: size 12 was bust 30 in, the others are guessed from it)"},
	} {
		a := Try(x.who, &x.pattern, x.copy, x.by)
		got := fmt.Sprintf("%s, %s: %s", a.Verdict, a.Sure, strings.Join(a.Words(model.Settings{Units: "in"}), " | "))
		if got != x.want {
			t.Errorf("%s:\n got %s\nwant %s", x.what, got, x.want)
		}
	}
}

func TestRangesAsSleevesPrintThem(t *testing.T) {
	order := []string{"6", "8", "10", "12", "14"}
	for text, want := range map[string]string{
		"6-10": "6 8 10", "6 - 10": "6 8 10", "8": "8", "6, 10": "6 10", "6-8-10": "6 8 10", "6–8": "6 8", "6/8": "6 8", "12-20": "12 14", "8;12": "8 12",
		"6 8 14 16": "6 8 14",
		"":          "", "4-8": "", "10-6": "", "S-L": "", "7": "", "6-9": "", "-": "", "6-7-8": "", "16": "",
	} {
		got, ok := within(text, order)
		if strings.Join(got, " ") != want && ok || ok != (want != "") {
			t.Errorf("%q is %v, %v, want %q", text, got, ok, want)
		}
	}
	for _, x := range []struct {
		sizeRange, size string
		want            bool
	}{
		{"10-14", "12", true}, {"10-14", "16", false}, {"", "12", true}, {"S-L", "M", true}, {"S-L", "XL", false}, {"one size", "One Size", true},
		{"one size", "12", false}, {"12", "12", true}, {"2-6", "4", true},
	} {
		if got := Covers(x.sizeRange, x.size); got != x.want {
			t.Errorf("Covers(%q, %q) = %v", x.sizeRange, x.size, got)
		}
	}
}

// By one measure the size is that of a search through all of them; a larger body
// never has a smaller size; and what is cut away never makes a pattern fit.
func TestSizesAgainstASearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		steps := rapid.SliceOfN(rapid.IntRange(1, 300), 1, 8).Draw(t, "steps")
		var sizes []model.Size
		at := model.MM(700)
		for i, s := range steps {
			at += model.MM(float64(s))
			sizes = append(sizes, model.Size{Name: fmt.Sprint(2 * i), Bust: at})
		}
		body := func(mm int) *model.Person { return &model.Person{Bust: model.MM(float64(mm))} }
		mm := rapid.IntRange(600, 3000).Draw(t, "bust")
		p := &model.Pattern{Sizes: rapid.Permutation(sizes).Draw(t, "chart")}
		a := Try(body(mm), p, nil, nil)
		m := a.Readings[0].Matches[0]
		best := 0
		for i := range sizes {
			if apart(sizes[i].Bust, m.Body) <= apart(sizes[best].Bust, m.Body) {
				best = i
			}
		}
		if m.Size != "" && m.Size != sizes[best].Name {
			t.Fatalf("bust %d by %v: %+v, nearest is %s", mm, sizes, m, sizes[best].Name)
		}
		if (m.Size == "") != (a.Verdict == No) {
			t.Fatalf("bust %d by %v: %+v", mm, sizes, a)
		}
		more := Try(body(mm+rapid.IntRange(0, 200).Draw(t, "more")), p, nil, nil).Readings[0].Matches[0]
		index := func(name string) int {
			return slices.IndexFunc(sizes, func(s model.Size) bool { return s.Name == name })
		}
		if m.Size != "" && more.Size != "" && index(more.Size) < index(m.Size) {
			t.Fatalf("bust %d has size %s, a larger one %s", mm, m.Size, more.Size)
		}
		left := rapid.SampledFrom(sizes).Draw(t, "left").Name
		if b := Try(body(mm), p, &model.Copy{Cut: model.FullyCut, Left: left}, nil); b.Verdict == Fits && (a.Verdict != Fits || len(sizes) > 1 && m.Size != left) {
			t.Fatalf("with %s left it fits: %+v; whole: %+v", left, b, a)
		}
	})
}
