package main

import (
	"fmt"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/storage/exchange"
	"github.com/spf13/cobra"
)

func (a *app) shelfCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "shelf",
		Short: "Sections, boxes, binders, hooks and settings, as one TOML file",
		Example: `  tuckrow shelf show > shelf.toml
  tuckrow shelf apply shelf.toml
  tuckrow shelf rename box 2 2a`,
		Args: noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return model.Inputf("say which: tuckrow shelf show, tuckrow shelf apply FILE, or tuckrow shelf rename KIND OLD NEW")
		},
	}
	cmd.AddCommand(&cobra.Command{
		Use:     "show",
		Short:   "Print the shelf file",
		Example: "  tuckrow shelf show > shelf.toml",
		Args:    noArgs,
		RunE: func(*cobra.Command, []string) error {
			return a.withStore(func(s cupboard) error {
				return exchange.WriteShelf(a.out, s.Collection().ShelfSpec())
			})
		},
	}, &cobra.Command{
		Use:   "apply FILE",
		Short: "Make the shelf what the file says",
		Long: `Makes the shelf what the file says, whole: what the file leaves out is no longer
there. A box keeps what stands in it as long as its name stays; tuckrow shelf
rename gives it another.`,
		Example: "  tuckrow shelf apply shelf.toml",
		Args:    oneArg("the shelf FILE"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error { return a.applyShelf(cmd, s, args[0]) })
		},
	}, a.renameCommand())
	return cmd
}

func (a *app) renameCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "rename KIND OLD NEW",
		Short: "Give a box, section, publisher or the like another name",
		Long: `Gives a thing another name. What belongs to it stays with it: what stands in a
box, the patterns of a publisher. KIND is box, section, hooks, publisher,
category or batch. (In a shelf file another name is another box.)`,
		Example: `  tuckrow shelf rename box 2 2a
  tuckrow shelf rename publisher Qillon Quillon`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 3 {
				return model.Inputf("%s needs a kind, the old name and the new one, each in quotes if it has spaces; see: %s --help", cmd.CommandPath(), cmd.CommandPath())
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.withStore(func(s cupboard) error {
				commit, err := s.Commit(cmd.Context(), &model.Rename{Kind: model.Named(args[0]), Old: args[1], New: args[2]})
				if err != nil {
					return err
				}
				a.printf("%s.\n", commit.Title)
				return nil
			})
		},
	}
}

func (a *app) applyShelf(cmd *cobra.Command, s cupboard, path string) (err error) {
	f, err := a.files.Open(path)
	if err != nil {
		return unreadable(err)
	}
	defer closing(f, &err)
	spec, err := exchange.ReadShelf(f)
	if err != nil {
		return fmt.Errorf("%q: %w", path, err)
	}
	before := s.Collection()
	commit, err := s.Commit(cmd.Context(), &model.SetShelf{Spec: spec})
	if err != nil {
		return fmt.Errorf("%q: %w", path, err)
	}
	for _, b := range before.Shelf().Boxes {
		if _, still := commit.Collection.Shelf().Box(b.ID); !still && len(before.Row(b.ID)) > 0 {
			a.printf("box %s is no longer on the shelf; its %s on the to-file pile (tuckrow undo takes this back).\n", b.Name, words.Count(len(before.Row(b.ID)), "envelope is", "envelopes are"))
		}
	}
	for _, b := range spec.OddBoxes(before.Shelf()) {
		a.printf("box %s is taken to be %s long; if that is a slip, mend the file and apply it again.\n", b.Name, b.Length.Fine(unitsOf(commit.Collection)))
	}
	sh := commit.Collection.Shelf()
	a.printf("the shelf has %s, %s, %s and %s.\n", words.Count(len(sh.Sections), "section", "sections"), words.Count(len(sh.Boxes), "box", "boxes"),
		words.Count(len(sh.Binders), "binder", "binders"), words.Count(len(sh.Hooks), "row of hooks", "rows of hooks"))
	return nil
}

func envelopes(n int) string { return words.Count(n, "envelope", "envelopes") }
