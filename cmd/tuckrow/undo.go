package main

import (
	"context"
	"fmt"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/storage/backup"
	"github.com/spf13/cobra"
)

func (a *app) undoCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "undo",
		Short:   "Take back the last change, and say which it was",
		Long:    "Takes back the last change that has not been taken back. Again goes one further.",
		Example: "  tuckrow undo",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return a.withStore(func(s cupboard) error {
				commit, err := s.Undo(cmd.Context())
				if err != nil {
					return err
				}
				a.printf("%s\n", commit.Title)
				return nil
			})
		},
	}
}

func (a *app) verifyCommand() *cobra.Command {
	rebuild := false
	cmd := &cobra.Command{
		Use:   "verify [FILE]",
		Short: "Read everything again, or a backup, and check that it holds together",
		Long: `Reads the store and its journal again, or a backup, and checks that all of it
holds together.

With --rebuild the store is made anew of the newest good backup and what the
journal says came after it. It is read back before it takes the place of the one
that is there, which is kept aside in the same folder. A store that can be read
and is further on than that is made anew of itself. What can be undone then is
what came after the backup.`,
		Example: "  tuckrow verify\n  tuckrow verify cupboard.jsonl\n  tuckrow verify --rebuild",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case rebuild && len(args) > 0:
				return model.Inputf("--rebuild finds the backup itself and takes no FILE; to bring back one that you name: tuckrow restore FILE")
			case rebuild:
				return a.rebuild(cmd.Context())
			case len(args) == 1:
				return a.verifyFile(cmd.Context(), args[0])
			}
			return a.withStore(func(s cupboard) error {
				n, err := s.Verify()
				if err != nil {
					return err
				}
				a.printf("%s read at revision %d; all hold together.\n", words.Count(n, "record", "records"), s.Collection().Rev())
				return nil
			})
		},
	}
	cmd.Flags().BoolVar(&rebuild, "rebuild", false, "make the store anew of its last good backup and its journal")
	return cmd
}

// rebuild makes the store anew. What could not be brought back is said, and is
// an exit code of its own.
func (a *app) rebuild(ctx context.Context) error {
	p := a.progress()
	r, err := backup.Rebuild(ctx, a.storeDir(), time.Now(), p.tell)
	p.end()
	if err != nil {
		return unchanged("making the store anew", err)
	}
	from := "what the store itself still held"
	switch {
	case r.Journal:
		a.printf("the store is whole; only its journal was damaged, and another will be begun.\nThe damaged one is kept in %q.\n", r.Aside)
		return nil
	case r.From != "":
		from = fmt.Sprintf("the backup %q", r.From)
	case r.Changes > 0:
		from = "the journal"
	}
	a.printf("made anew of %s", from)
	if r.From != "" && r.Changes > 0 {
		a.printf(" and the journal, with %s since", words.Count(int(r.Changes), "change", "changes"))
	}
	a.printf(": %s at revision %d; all hold together.\n", copies(r.Collection.Copies().Len()), r.Collection.Rev())
	if r.Aside != "" {
		a.printf("What was there before is kept in %q.\nWhen you are sure that you will not need it, remove that folder.\n", r.Aside)
	}
	if len(r.Lost) == 0 {
		return nil
	}
	fmt.Fprintf(a.err, "tuckrow: this may be missing; look, and enter it again where it is:\n")
	for _, what := range r.Lost {
		fmt.Fprintf(a.err, "  %s\n", words.Escape(what))
	}
	return answer(exitPart)
}
