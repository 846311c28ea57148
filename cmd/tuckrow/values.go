package main

import (
	"context"
	"maps"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// assign reads FIELD=VALUE arguments into what the fields are to set.
func assign(given []string, fields map[string]func(string) error) error {
	for _, arg := range given {
		name, value, ok := strings.Cut(arg, "=")
		set := fields[strings.TrimSpace(name)]
		if !ok || set == nil {
			return model.Inputf("%q is not FIELD=VALUE with one of these fields: %s", arg, strings.Join(slices.Sorted(maps.Keys(fields)), ", "))
		}
		if err := set(words.Clean(value)); err != nil {
			return err
		}
	}
	return nil
}

// into is a field of free text.
func into(to *string) func(string) error {
	return func(text string) error { *to = text; return nil }
}

// intoMeasure is a field of what was measured with a tape, which read reads; nothing
// is none.
func intoMeasure(name string, read func(what, text string) (model.Length, error), to *model.Length) func(string) error {
	return func(text string) (err error) {
		if *to = 0; text != "" {
			*to, err = read(name, text)
		}
		return err
	}
}

// intoDate is a field of a day.
func intoDate(name string, to *model.Date) func(string) error {
	return func(text string) (err error) { *to, err = model.ParseDate(name, text); return err }
}

// listOf reads a list with semicolons or commas between.
func listOf(text string) []string {
	var out []string
	for part := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ';' || r == ',' }) {
		if part = words.Clean(part); part != "" {
			out = append(out, part)
		}
	}
	return out
}

// intoYes is a field that is yes or no.
func intoYes(name string, to *bool) func(string) error {
	return func(text string) (err error) { *to, err = model.ParseYes(name, text); return err }
}

// commit makes a change and says which it was.
func (a *app) commit(ctx context.Context, s cupboard, ch model.Change) error {
	commit, err := s.Commit(ctx, ch)
	if err != nil {
		return err
	}
	a.printf("%s\n", commit.Title)
	return nil
}
