package model

import (
	"slices"

	"example.org/tuckrow/model/words"
)

// ShelfSpec is the furniture as the owner writes it down, by names. It is what
// a shelf file holds.
type ShelfSpec struct {
	Settings   Settings        `json:"settings"`
	Sections   []SectionSpec   `json:"sections,omitempty"`
	Boxes      []BoxSpec       `json:"boxes,omitempty"`
	Publishers []PublisherSpec `json:"publishers,omitempty"`
	Binders    []BinderSpec    `json:"binders,omitempty"`
	Hooks      []HookSpec      `json:"hooks,omitempty"`
	Labels     []LabelSheet    `json:"label_sheets,omitempty"`
	Oversize   []BoxSpec       `json:"oversize,omitempty"`
}

// allOthers stands among the publishers of a section for all that no other section
// names, and so no publisher can be called that.
const allOthers = "*"

// SectionSpec is a section by names; the publisher "*" means all that no other
// section names.
type SectionSpec struct {
	Title      string   `json:"title"`
	Publishers []string `json:"publishers,omitempty"`
	Tags       []string `json:"tags,omitempty"`
	NewBox     bool     `json:"new_box,omitempty"`
}

// BoxSpec is a box.
type BoxSpec struct {
	Name   string `json:"name"`
	Length Length `json:"length_mm"`
	Place  string `json:"place,omitempty"`
	Locked bool   `json:"locked,omitempty"`
}

// What is longer or shorter than any box that one would file in (our choice, no
// source): likelier a slip, or another unit than was meant.
const (
	oddlyShort = 100 * Millimetre
	oddlyLong  = 1500 * Millimetre
)

// OddBoxes lists the boxes of an odd length, but those that are on the shelf as long
// already. They can be true, and are asked about.
func (s ShelfSpec) OddBoxes(now *Shelf) []BoxSpec {
	var odd []BoxSpec
	for _, b := range s.Boxes {
		old, err := now.BoxNamed(b.Name)
		if (b.Length < oddlyShort || b.Length > oddlyLong) && (err != nil || old.Length != b.Length) {
			odd = append(odd, b)
		}
	}
	return odd
}

// PublisherSpec says how a publisher is filed.
type PublisherSpec struct {
	Name    string `json:"name"`
	FilesAs string `json:"files_as,omitempty"`
	Numbers Scheme `json:"numbers,omitempty"`
}

// BinderSpec is a binder.
type BinderSpec struct {
	Category    string   `json:"category"`
	Pockets     int      `json:"pockets"`
	SubDividers []string `json:"sub_dividers,omitempty"`
	SeeAlso     Entered  `json:"see_also,omitempty"`
}

// HookSpec is a row of hooks.
type HookSpec struct {
	Name  string `json:"name"`
	Hooks int    `json:"hooks"`
	Each  int    `json:"each"`
}

// noPublisher tells whether something cannot be the name of a publisher.
func noPublisher(name string) error {
	if name == allOthers {
		return &FieldError{"publisher", name, "stands for all other publishers in a section", "write what it is called"}
	}
	return nil
}

// ShelfSpec writes the furniture down by names.
func (c *Collection) ShelfSpec() ShelfSpec {
	spec := ShelfSpec{Settings: c.shelf.Settings, Labels: slices.Clone(c.shelf.Labels)}
	for _, s := range c.shelf.Sections {
		names := make([]string, 0, len(s.Publishers)+1)
		for _, p := range s.Publishers {
			names = append(names, c.Publisher(p).Name)
		}
		if s.Others {
			names = append(names, allOthers)
		}
		spec.Sections = append(spec.Sections, SectionSpec{s.Title, names, s.Tags, s.NewBox})
	}
	for _, b := range c.shelf.Boxes {
		spec.Boxes = append(spec.Boxes, BoxSpec{b.Name, b.Length, b.Place, b.Locked})
	}
	for _, b := range c.shelf.Oversize {
		spec.Oversize = append(spec.Oversize, BoxSpec{b.Name, b.Length, b.Place, b.Locked})
	}
	for _, p := range c.publishers.All() {
		if p.FilesAs != "" || (p.Numbers != "" && p.Numbers != Consecutive) {
			spec.Publishers = append(spec.Publishers, PublisherSpec{p.Name, p.FilesAs, p.Numbers})
		}
	}
	for _, b := range c.shelf.Binders {
		spec.Binders = append(spec.Binders, BinderSpec{c.Category(b.Category).Name, b.Pockets, b.SubDividers, b.SeeAlso})
	}
	for _, h := range c.shelf.Hooks {
		spec.Hooks = append(spec.Hooks, HookSpec{h.Name, h.Hooks, h.Each})
	}
	return spec
}

// clone copies the slices, so that a spec can be cleaned without touching the
// caller's.
func (s ShelfSpec) clone() ShelfSpec {
	s.Sections, s.Boxes = slices.Clone(s.Sections), slices.Clone(s.Boxes)
	s.Publishers, s.Binders, s.Hooks = slices.Clone(s.Publishers), slices.Clone(s.Binders), slices.Clone(s.Hooks)
	s.Labels, s.Oversize = slices.Clone(s.Labels), slices.Clone(s.Oversize)
	printing := &s.Settings.Printing
	cleanAll(&s.Settings.Envelope, &printing.Paper, &printing.Labels, &printing.Code)
	for i := range s.Sections {
		s.Sections[i].Publishers = cleanEach(s.Sections[i].Publishers)
		s.Sections[i].Tags = cleanEach(s.Sections[i].Tags)
		cleanAll(&s.Sections[i].Title)
	}
	for i := range s.Boxes {
		cleanAll(&s.Boxes[i].Name, &s.Boxes[i].Place)
	}
	for i := range s.Oversize {
		cleanAll(&s.Oversize[i].Name, &s.Oversize[i].Place)
	}
	for i := range s.Publishers {
		cleanAll(&s.Publishers[i].Name, &s.Publishers[i].FilesAs)
	}
	for i := range s.Binders {
		cleanAll(&s.Binders[i].Category)
		s.Binders[i].SubDividers = cleanEach(s.Binders[i].SubDividers)
	}
	for i := range s.Hooks {
		cleanAll(&s.Hooks[i].Name)
	}
	for i := range s.Labels {
		cleanAll(&s.Labels[i].Name, &s.Labels[i].Paper)
	}
	return s
}

func cleanEach(in []string) []string {
	var out []string
	for _, s := range in {
		if s = words.Clean(s); s != "" {
			out = append(out, s)
		}
	}
	return out
}
