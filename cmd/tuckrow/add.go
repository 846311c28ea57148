package main

import (
	"strings"

	"example.org/tuckrow/model"
	"github.com/spf13/cobra"
)

func (a *app) addCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "add FIELD=VALUE...",
		Short: "Enter one copy from the command line",
		Long: `Enters one copy and prints its accession number once it is safe on disk.
A publisher, and a number or a name, are required. With pattern=N the copy is a
further one of that pattern; find --json shows the numbers.

Fields: ` + fieldHelp(),
		Example: "  tuckrow add publisher='Harrow & Pell' number=6123 name='Wrap dress' category=Dresses",
		Args:    someArgs("at least publisher=... and number=... or name=..."),
		RunE: func(cmd *cobra.Command, args []string) error {
			en, err := entryFrom(args)
			if err != nil {
				return err
			}
			return a.withStore(func(s cupboard) error {
				commit, err := s.Commit(cmd.Context(), &model.Add{Entries: []model.Entry{en}})
				if err != nil {
					return err
				}
				a.printf("%d\n", commit.Added()[0])
				return nil
			})
		},
	}
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
