package main

import (
	"strings"

	"example.org/tuckrow/model"
	"github.com/spf13/cobra"
)

func (a *app) changeCommand() *cobra.Command {
	copyNo := 0
	cmd := &cobra.Command{
		Use:   "change WORDS FIELD=VALUE...",
		Short: "Correct or complete an entry",
		Long: `Makes one entry say what is given; the rest of it stays, and so does where it
stands. FIELD= empties a field. What belongs to the pattern (its name, its sizes)
is changed for all its copies.

Fields: ` + fieldHelp(),
		Example: `  tuckrow change harrow 6123 year=1974 dated_by=postmark
  tuckrow change --copy 412 cut=partly sizes_left=10-12
  tuckrow change harrow 6123 size_chart='10 | 32 1/2 in | 25 in | 34 1/2 in; 12 | 34 in | 26 1/2 in | 36 in'`,
		Args: someArgs("what to change, and at least one FIELD=VALUE"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				words, given := nameAnd(args)
				if len(given) == 0 {
					return model.Inputf("say what is to be changed, for example: tuckrow change %s year=1974", words)
				}
				cp, err := oneCopy(s, s.Layout(), copyNo, words, anyCopy)
				if err != nil {
					return err
				}
				if err := onlyCorrected(given); err != nil {
					return err
				}
				en := s.Collection().EntryOf(s.Collection().Copy(cp))
				if err := fill(&en, given); err != nil {
					return err
				}
				return a.commit(cmd.Context(), s, &model.Revise{Entry: en})
			})
		},
	}
	cmd.Flags().IntVar(&copyNo, "copy", 0, "accession number of the copy")
	return cmd
}

// elsewhere are the fields that a correction leaves alone, and what changes
// them.
var elsewhere = map[string]string{
	"accession": "it is given once and stays", "pattern": "a copy stays with its pattern",
	"box": "tuckrow refile says where it goes", "position": "tuckrow refile says where it goes", "hook": "tuckrow refile says where it goes",
	"out_since": "use tuckrow out and tuckrow back", "out_to": "use tuckrow out and tuckrow back", "out_for": "use tuckrow out and tuckrow back",
}

func onlyCorrected(given []string) error {
	for _, arg := range given {
		name, _, _ := strings.Cut(arg, "=")
		if why, there := elsewhere[strings.TrimSpace(name)]; there {
			return model.Inputf("%q cannot be changed here: %s", strings.TrimSpace(name), why)
		}
	}
	return nil
}
