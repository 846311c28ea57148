package main

import (
	"fmt"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/model/propose"
	"example.org/tuckrow/model/words"
	"github.com/spf13/cobra"
)

func (a *app) addCommand() *cobra.Command {
	another, own, named := false, false, false
	cmd := &cobra.Command{
		Use:   "add FIELD=VALUE...",
		Short: "Enter one copy from the command line",
		Long: `Enters one copy and prints its accession number once it is safe on disk.
A publisher, and a number or a name, are required. Where they are listed already, and
nothing else is said of the pattern than is listed, it is a further copy, and that is
said; --new-pattern makes it a pattern of its own, pattern=N a further copy of that
one (find --json shows the numbers). A publisher that is nearly a listed one, or
the beginning of its name, is asked back for; so is a new category of one or two letters.

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
				if begin, short := propose.Short(s.Collection(), en.Category); short && !named {
					return shortCategory(en.Category, begin)
				}
				listed, again := lookup.NumbersOf(s.Collection()).Of(en)
				again = again && en.Pattern == 0 && !own
				if again && listed.Further() {
					en.Pattern = listed.Pattern.ID
				}
				commit, err := s.Commit(cmd.Context(), &model.Add{Entries: []model.Entry{en}})
				if err != nil {
					return err
				}
				a.printf("%d\n", commit.Added()[0])
				if again {
					a.sayListed(s.Collection(), listed)
				}
				return nil
			})
		},
	}
	cmd.Flags().BoolVar(&another, "new-publisher", false, "the publisher is another than the one that is spelled much like it")
	cmd.Flags().BoolVar(&named, "new-category", false, "the category is called by those one or two letters")
	cmd.Flags().BoolVar(&own, "new-pattern", false, "it is a pattern of its own, though all that is said of it is listed")
	return cmd
}

// shortCategory asks back for a category that is not listed and was perhaps meant by
// its first letters.
func shortCategory(name string, begin []string) error {
	if len(begin) == 0 {
		return model.Inputf("category %q is not listed: write it in full, or --new-category if it is called so", name)
	}
	var like []string
	for _, n := range begin {
		like = append(like, fmt.Sprintf("category='%s'", n))
	}
	return model.Inputf("category %q is not listed: write it in full, like %s, or --new-category if it is called so", name, strings.Join(like, " or "))
}

// sayListed says beside what is printed, which is the accession number alone, that
// the number or name was listed already and what came of it.
func (a *app) sayListed(c *model.Collection, l lookup.Listed) {
	text := fmt.Sprintf("owned already: %s; this is %s. Is it a pattern of its own: tuckrow undo, then add it with --new-pattern", c.Called(l.Pattern.ID), l.Why())
	if !l.Further() {
		text = fmt.Sprintf("listed already: %s; this is %s. Is it a further copy: tuckrow undo, then add it with pattern=%d", c.Called(l.Pattern.ID), l.Why(), l.Pattern.ID)
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
		if err := f.Type(en, value); err != nil {
			return err
		}
	}
	return nil
}
