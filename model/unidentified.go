package model

import (
	"slices"
	"strings"
)

// Unidentified is the tag of what lies in the unidentified bin: nobody knows yet
// what it is.
const Unidentified = "unidentified"

// NotKnown stands for a publisher whom nobody knows. What bears it lies in the
// unidentified bin.
const NotKnown = "not known"

func notKnown(publisher string) bool { return nameKey(publisher) == nameKey(NotKnown) }

func isUnidentified(tag string) bool { return strings.EqualFold(tag, Unidentified) }

// identified takes the tag out of tags.
func identified(tags []string) []string {
	return noneNil(slices.DeleteFunc(slices.Clone(tags), isUnidentified))
}

// bin has a pattern bear the tag as long as nobody knows its publisher.
func (e *editor) bin(p *Pattern) {
	if notKnown(e.c.Publisher(p.Publisher).Name) && !slices.ContainsFunc(p.Tags, isUnidentified) {
		p.Tags = append(slices.Clip(p.Tags), Unidentified)
	}
}

// rebin puts patterns into the bin whose publisher is known no more, and takes
// out those whose publisher was not known and is.
func (e *editor) rebin() {
	for _, was := range e.from.patterns.All() {
		now := e.c.Pattern(was.ID)
		if now == nil || e.c.Publisher(now.Publisher) == e.from.Publisher(was.Publisher) {
			continue
		}
		p := *now
		if e.bin(&p); notKnown(e.from.Publisher(was.Publisher).Name) && !notKnown(e.c.Publisher(p.Publisher).Name) {
			p.Tags = identified(p.Tags)
		}
		if !slices.Equal(p.Tags, now.Tags) {
			e.put(&p)
		}
	}
}
