package exchange

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"example.org/tuckrow/model"
	"github.com/pelletier/go-toml/v2"
)

// shelfFile is the shelf file as TOML. Lengths are in millimetres.
type shelfFile struct {
	Units             string        `toml:"units"`
	Envelope          string        `toml:"envelope"`
	WorkingSpace      string        `toml:"working_space" comment:"kept free in every box: a share, or a length like 60mm"`
	DividerThickness  float64       `toml:"divider_thickness"`
	RangeCardEvery    int           `toml:"range_card_every" comment:"0: none"`
	PublisherCardFrom int           `toml:"publisher_card_from" comment:"envelopes that earn a publisher a card in a mixed section; 0: none"`
	Half              string        `toml:"hemisphere" comment:"whose seasons count for what to sew next: north or south"`
	Thickness         thicknessFile `toml:"thickness" comment:"by state, where a copy is not measured"`
	Printing          printFile     `toml:"print,omitempty"`
	Sections          []sectionFile `toml:"section,omitempty"`
	Boxes             []boxFile     `toml:"box,omitempty"`
	Publishers        []pubFile     `toml:"publisher,omitempty"`
	Binders           []binderFile  `toml:"binder,omitempty"`
	Hooks             []hookFile    `toml:"hooks,omitempty"`
	Labels            []labelFile   `toml:"label_sheet,omitempty"`
	Oversize          []boxFile     `toml:"oversize,omitempty"`
}

type thicknessFile struct {
	Uncut float64 `toml:"uncut"`
	Cut   float64 `toml:"cut"`
	Bulky float64 `toml:"bulky"`
}

type sectionFile struct {
	Title      string   `toml:"title"`
	Publishers []string `toml:"publishers,omitempty"`
	Tags       []string `toml:"tags,omitempty"`
	NewBox     bool     `toml:"new_box,omitempty"`
}

type boxFile struct {
	Name   string  `toml:"name"`
	Length float64 `toml:"length"`
	Place  string  `toml:"place,omitempty"`
	Locked bool    `toml:"locked,omitempty"`
}

type pubFile struct {
	Name    string `toml:"name"`
	FilesAs string `toml:"files_as,omitempty"`
	Numbers string `toml:"numbers,omitempty"`
}

type binderFile struct {
	Category    string   `toml:"category"`
	Pockets     int      `toml:"pockets"`
	SubDividers []string `toml:"sub_dividers,omitempty"`
	SeeAlso     string   `toml:"see_also,omitempty"` // line or pocket
}

type hookFile struct {
	Name  string `toml:"name"`
	Hooks int    `toml:"hooks"`
	Each  int    `toml:"each"`
}

// WriteShelf writes the furniture and the settings as a shelf file.
func WriteShelf(w io.Writer, spec model.ShelfSpec) error {
	s := spec.Settings
	f := shelfFile{
		Units: s.Units, Envelope: s.Envelope, WorkingSpace: s.Working.String(), DividerThickness: s.Divider.MM(),
		RangeCardEvery: s.RangeCardEvery, PublisherCardFrom: s.PublisherCardFrom,
		Thickness: thicknessFile{s.Thickness.Uncut.MM(), s.Thickness.Cut.MM(), s.Thickness.Bulky.MM()},
		Printing:  printFile(s.Printing),
		Half:      s.Half.String(),
	}
	for _, x := range spec.Sections {
		f.Sections = append(f.Sections, sectionFile(x))
	}
	for _, x := range spec.Boxes {
		f.Boxes = append(f.Boxes, boxFile{x.Name, x.Length.MM(), x.Place, x.Locked})
	}
	for _, x := range spec.Oversize {
		f.Oversize = append(f.Oversize, boxFile{x.Name, x.Length.MM(), x.Place, x.Locked})
	}
	for _, x := range spec.Publishers {
		f.Publishers = append(f.Publishers, pubFile{x.Name, x.FilesAs, string(x.Numbers)})
	}
	for _, x := range spec.Binders {
		f.Binders = append(f.Binders, binderFile{x.Category, x.Pockets, x.SubDividers, string(x.SeeAlso)})
	}
	for _, x := range spec.Hooks {
		f.Hooks = append(f.Hooks, hookFile(x))
	}
	for _, x := range spec.Labels {
		f.Labels = append(f.Labels, labelFileOf(x))
	}
	var b bytes.Buffer
	if err := toml.NewEncoder(&b).Encode(f); err != nil {
		return fmt.Errorf("writing the shelf file: %w", err)
	}
	_, err := w.Write(b.Bytes())
	return err
}

// ReadShelf reads a shelf file. What it does not set keeps its default.
func ReadShelf(r io.Reader) (model.ShelfSpec, error) {
	d := model.DefaultSettings()
	f := shelfFile{
		Units: d.Units, Envelope: d.Envelope, WorkingSpace: d.Working.String(), DividerThickness: d.Divider.MM(),
		RangeCardEvery: d.RangeCardEvery, PublisherCardFrom: d.PublisherCardFrom,
		Thickness: thicknessFile{d.Thickness.Uncut.MM(), d.Thickness.Cut.MM(), d.Thickness.Bulky.MM()},
		Printing:  printFile(d.Printing),
		Half:      d.Half.String(),
	}
	in := bufio.NewReader(r)
	if mark, _ := in.Peek(len(byteOrderMark)); string(mark) == byteOrderMark { // an editor may have put it there
		_, _ = in.Discard(len(byteOrderMark))
	}
	dec := toml.NewDecoder(in)
	dec.DisallowUnknownFields()
	if err := dec.Decode(&f); err != nil {
		return model.ShelfSpec{}, readable(err)
	}
	return f.spec()
}

const byteOrderMark = "\ufeff"

// readable says where in the file the trouble is.
func readable(err error) error {
	var unknown *toml.StrictMissingError
	if errors.As(err, &unknown) && len(unknown.Errors) > 0 {
		row, _ := unknown.Errors[0].Position()
		return model.Inputf("the shelf file, line %d: %q is not known here; tuckrow shelf show prints a file with all that is", row, strings.Join(unknown.Errors[0].Key(), "."))
	}
	var wrong *toml.DecodeError
	if errors.As(err, &wrong) {
		row, column := wrong.Position()
		// "... into struct field" and on names what only we know.
		text, _, ours := strings.Cut(strings.TrimPrefix(wrong.Error(), "toml: "), " into struct field ")
		if ours {
			text += " for this; tuckrow shelf show prints a file to go by"
		}
		return model.Inputf("the shelf file, line %d, column %d: %s", row, column, text)
	}
	return model.Inputf("the shelf file cannot be read: %v", err)
}

// lengthFile is a length as a shelf file says it, in mm, and where it goes.
type lengthFile struct {
	what string
	mm   float64
	to   *model.Length
}

func (f *shelfFile) spec() (spec model.ShelfSpec, err error) {
	s := &spec.Settings
	s.Units, s.Envelope = f.Units, f.Envelope
	s.RangeCardEvery, s.PublisherCardFrom = f.RangeCardEvery, f.PublisherCardFrom
	s.Printing = model.Printing(f.Printing)
	if s.Working, err = model.ParseSpace(f.WorkingSpace); err != nil {
		return spec, err
	}
	if s.Half, err = model.ParseHalf(f.Half); err != nil {
		return spec, err
	}
	lengths := []lengthFile{
		{"divider_thickness", f.DividerThickness, &s.Divider},
		{"thickness.uncut", f.Thickness.Uncut, &s.Thickness.Uncut},
		{"thickness.cut", f.Thickness.Cut, &s.Thickness.Cut},
		{"thickness.bulky", f.Thickness.Bulky, &s.Thickness.Bulky},
	}
	boxes := func(from []boxFile) []model.BoxSpec {
		if len(from) == 0 {
			return nil
		}
		to := make([]model.BoxSpec, len(from))
		for i, b := range from {
			to[i] = model.BoxSpec{Name: b.Name, Place: b.Place, Locked: b.Locked}
			lengths = append(lengths, lengthFile{fmt.Sprintf("the length of box %q", b.Name), b.Length, &to[i].Length})
		}
		return to
	}
	spec.Boxes, spec.Oversize = boxes(f.Boxes), boxes(f.Oversize)
	for _, l := range lengths {
		if !possible(l.mm) {
			return spec, model.Inputf("the shelf file: %s is %v; give millimetres between 0 and 100000", l.what, l.mm)
		}
		*l.to = model.MM(l.mm)
	}
	for _, x := range f.Sections {
		spec.Sections = append(spec.Sections, model.SectionSpec(x))
	}
	for _, x := range f.Publishers {
		spec.Publishers = append(spec.Publishers, model.PublisherSpec{Name: x.Name, FilesAs: x.FilesAs, Numbers: model.Scheme(x.Numbers)})
	}
	for _, x := range f.Binders {
		entered, err := model.ParseEntered(x.SeeAlso)
		if err != nil {
			return spec, err
		}
		spec.Binders = append(spec.Binders, model.BinderSpec{Category: x.Category, Pockets: x.Pockets, SubDividers: x.SubDividers, SeeAlso: entered})
	}
	for _, x := range f.Hooks {
		spec.Hooks = append(spec.Hooks, model.HookSpec(x))
	}
	for _, x := range f.Labels {
		sheet, err := x.sheet()
		if err != nil {
			return spec, err
		}
		spec.Labels = append(spec.Labels, sheet)
	}
	return spec, nil
}
