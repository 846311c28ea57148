package model

import (
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/model/words"
)

// Size is one size of a pattern and the body it is drawn for, as the sleeve
// says; a measure that it does not give is 0.
type Size struct {
	Name  string `json:"name" cbor:"1,keyasint"`
	Bust  Length `json:"bust_mm,omitempty" cbor:"2,keyasint,omitempty"`
	Waist Length `json:"waist_mm,omitempty" cbor:"3,keyasint,omitempty"`
	Hip   Length `json:"hip_mm,omitempty" cbor:"4,keyasint,omitempty"`
}

// Need is the cloth that a sleeve asks for: so much of one width, for a view
// and a size.
type Need struct {
	View   string `json:"view,omitempty" cbor:"1,keyasint,omitempty"` // empty: every view
	Size   string `json:"size,omitempty" cbor:"2,keyasint,omitempty"` // one, or a range; empty: every size
	Width  Length `json:"width_mm" cbor:"3,keyasint"`
	Length Length `json:"length_mm" cbor:"4,keyasint"`
	For    string `json:"for,omitempty" cbor:"5,keyasint,omitempty"` // "lining"; empty: the cloth itself
}

// In a cell sizes and needs stand one behind the other with semicolons between,
// each with bars between what it says.
const (
	cellSign  = ";"
	partSign  = "|"
	mostSizes = 100 // far above what a sleeve lists

	sizeExample = "10 | 32 1/2 in | 25 in | 34 1/2 in"
	needExample = "A | 10-14 | 45 in | 2 1/4 yd"
)

// SizesText writes sizes down as ParseSizes reads them: "10 | 825.5 | 635 | 876.3".
func SizesText(sizes []Size) string { return sizesText(sizes, Length.number) }

func sizesText(sizes []Size, write func(Length) string) string {
	return join(sizes, func(s Size) []string {
		return []string{s.Name, cellOf(s.Bust, write), cellOf(s.Waist, write), cellOf(s.Hip, write)}
	})
}

// ParseSizes reads sizes: name, bust, waist and hip with bars between, one size
// behind the other with semicolons between: "10 | 32 1/2 in | 25 in | 34 1/2
// in; 12 | 34 in". Numbers without a unit are millimetres.
func ParseSizes(text string) ([]Size, error) { return parseSizes(text, parseCell) }

func parseSizes(text string, measure func(string) (Length, error)) ([]Size, error) {
	return split("size_chart", text, "give name, bust, waist and hip of each, like "+sizeExample, 4, mostSizes, func(p []string) (s Size, err error) {
		s.Name = p[0]
		for i, to := range []*Length{&s.Bust, &s.Waist, &s.Hip} {
			if *to, err = measure(p[1+i]); err != nil {
				return s, err
			}
		}
		return s, s.fault()
	})
}

// fault says what of a size cannot be.
func (s Size) fault() error {
	switch {
	case s.Name == "" || s.Name != cleanCell(s.Name):
		return fmt.Errorf("%q is no name of a size", s.Name)
	case !sane(s.Bust.MM()) || !sane(s.Waist.MM()) || !sane(s.Hip.MM()):
		return fmt.Errorf("size %q has a measure that no body has", s.Name)
	}
	return nil
}

// NeedsText writes needs down as ParseNeeds reads them: "A | 10-14 | 1150 | 2300".
func NeedsText(needs []Need) string { return needsText(needs, Length.number) }

func needsText(needs []Need, write func(Length) string) string {
	return join(needs, func(n Need) []string {
		return []string{n.View, n.Size, cellOf(n.Width, write), cellOf(n.Length, write), n.For}
	})
}

// ParseNeeds reads what a sleeve asks for: view, size, width and length of the
// cloth, and what for, with bars between: "A | 10-14 | 45 in | 2 1/4 yd; B |
// 10-14 | 115 cm | 1.5 m | lining". View and size may be empty.
func ParseNeeds(text string) ([]Need, error) { return parseNeeds(text, parseCell) }

func parseNeeds(text string, measure func(string) (Length, error)) ([]Need, error) {
	return split("cloth_needed", text, "give view, size, width and length of each, like "+needExample, 5, mostSizes, func(p []string) (n Need, err error) {
		n.View, n.Size, n.For = p[0], p[1], p[4]
		if n.Width, err = measure(p[2]); err != nil {
			return n, err
		}
		if n.Length, err = measure(p[3]); err != nil {
			return n, err
		}
		return n, n.fault()
	})
}

// fault says what of a need cannot be.
func (n Need) fault() error {
	switch {
	case n.View != cleanCell(n.View) || n.Size != cleanCell(n.Size) || n.For != cleanCell(n.For):
		return fmt.Errorf("view %q, size %q or %q cannot be written down", n.View, n.Size, n.For)
	case n.Width == 0 || n.Length == 0 || !sane(n.Width.MM()) || !sane(n.Length.MM()):
		return fmt.Errorf("view %q, size %q has no width or no length", n.View, n.Size)
	}
	return nil
}

// join writes a list down; empty parts at the end are left out.
func join[T any](list []T, parts func(T) []string) string {
	cells := make([]string, len(list))
	for i, x := range list {
		cells[i] = words.Clean(strings.TrimRight(strings.Join(parts(x), " "+partSign+" "), " "+partSign))
	}
	return strings.Join(cells, cellSign+" ")
}

// split reads a list of at most so many, of at most so many parts each. The error is
// a *FieldError.
func split[T any](field, text, hint string, parts, most int, read func([]string) (T, error)) ([]T, error) {
	var out []T
	for cell := range strings.SplitSeq(words.Clean(text), cellSign) {
		if cell = strings.TrimSpace(cell); cell == "" {
			continue
		}
		p := strings.Split(cell, partSign)
		for i := range p {
			p[i] = strings.TrimSpace(p[i])
		}
		if len(p) > parts || len(out) == most {
			return nil, &FieldError{field, text, "has too many parts", hint}
		}
		for len(p) < parts {
			p = append(p, "")
		}
		x, err := read(p)
		if err != nil {
			return nil, &FieldError{field, text, "cannot be read: " + err.Error(), hint}
		}
		out = append(out, x)
	}
	return out, nil
}

func lengthCell(l Length) string { return cellOf(l, Length.number) }

func cellOf(l Length, write func(Length) string) string {
	if l == 0 {
		return ""
	}
	return write(l)
}

func parseCell(text string) (Length, error) {
	if text == "" {
		return 0, nil
	}
	return ParseLength(text)
}

// cellText takes out of a text what parts a cell. It works on cleaned text.
var cellText = strings.NewReplacer(cellSign, " ", partSign, " ")

func cleanCell(text string) string { return words.Clean(cellText.Replace(words.Clean(text))) }

// cleanSizes cleans what an entry says of sizes and needs, and checks it. The
// lists of the caller stay as they are.
func (en *Entry) cleanSizes() error {
	en.Sizes, en.Needs = slices.Clone(en.Sizes), slices.Clone(en.Needs)
	for i := range en.Sizes {
		s := &en.Sizes[i]
		s.Name = cleanCell(s.Name)
	}
	for i := range en.Needs {
		n := &en.Needs[i]
		n.View, n.Size, n.For = cleanCell(n.View), cleanCell(n.Size), cleanCell(n.For)
	}
	if err := faultOf(en.Sizes, en.Needs); err != nil {
		return Inputf("%v; write sizes like %q and needs like %q", err, sizeExample, needExample)
	}
	return nil
}

// faultOf finds the first size or need that cannot be.
func faultOf(sizes []Size, needs []Need) error {
	for _, s := range sizes {
		if err := s.fault(); err != nil {
			return err
		}
	}
	for _, n := range needs {
		if err := n.fault(); err != nil {
			return err
		}
	}
	if len(sizes) > mostSizes || len(needs) > mostSizes {
		return fmt.Errorf("there are %d sizes and %d needs, and %d of each is the most", len(sizes), len(needs), mostSizes)
	}
	return nil
}
