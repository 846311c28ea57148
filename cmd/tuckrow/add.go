package main

import (
	"fmt"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/model/words"
	"github.com/spf13/cobra"
)

func (a *app) addCommand() *cobra.Command {
	another := false
	cmd := &cobra.Command{
		Use:   "add FIELD=VALUE...",
		Short: "Enter one copy from the command line",
		Long: `Enters one copy and prints its accession number once it is safe on disk.
A publisher, and a number or a name, are required. With pattern=N the copy is a
further one of that pattern; find --json shows the numbers. A number that is listed
already is said to be. A publisher that is nearly a listed one, or the beginning of
its name, is asked back for.

Fields: ` + fieldHelp(),
		Example: "  tuckrow add publisher='Harrow & Pell' number=6123 name='Wrap dress' category=Dresses",
		Args:    someArgs("at least publisher=... and number=... or name=..."),
		RunE: func(cmd *cobra.Command, args []string) error {
			en, err := entryFrom(args)
			if err != nil {
				return err
			}
			return a.withStore(func(s cupboard) error {
				if near := lookup.LikePublisher(s.Collection(), en.Publisher); near != nil && en.Pattern == 0 && !another {
					return model.Inputf("publisher %q is not listed: write publisher='%s' if that is meant, or --new-publisher if it is another", en.Publisher, near.Name)
				}
				listed, again := lookup.NumbersOf(s.Collection()).Of(en)
				commit, err := s.Commit(cmd.Context(), &model.Add{Entries: []model.Entry{en}})
				if err != nil {
					return err
				}
				a.printf("%d\n", commit.Added()[0])
				if again && en.Pattern == 0 {
					a.sayOwned(s.Collection(), listed)
				}
				return nil
			})
		},
	}
	cmd.Flags().BoolVar(&another, "new-publisher", false, "the publisher is another than the one that is spelled much like it")
	return cmd
}

// sayOwned says beside what is printed, which is the accession number alone, that
// the number is listed already.
func (a *app) sayOwned(c *model.Collection, l lookup.Listed) {
	text := fmt.Sprintf("owned already: %s; %s. This is listed as a pattern of its own; was it a further copy, then tuckrow undo, and add it with pattern=%d",
		c.Called(l.Pattern.ID), l.Tie, l.Pattern.ID)
	if !l.Tie.Owned() {
		text = fmt.Sprintf("number listed already: %s; %s", c.Called(l.Pattern.ID), l.Why())
	}
	fmt.Fprintf(a.err, "tuckrow: %s\n", words.Escape(text))
}

func entryFrom(args []string) (model.Entry, error) {
	var en model.Entry
	err := fill(&en, args)
	return en, err
}

// fill makes an entry say what FIELD=VALUE arguments give.
func fill(en *model.Entry, args []string) error {
	for _, arg := range args {
		name, value, ok := strings.Cut(arg, "=")
		if !ok {
			return model.Inputf("%q is not FIELD=VALUE; write for example number=6123", arg)
		}
		f, ok := model.FieldNamed(strings.TrimSpace(name))
		if !ok {
			return model.Inputf("there is no field %q; tuckrow add --help lists them", name)
		}
		if err := f.Set(en, value); err != nil {
			return err
		}
	}
	return nil
}
