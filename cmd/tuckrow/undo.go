package main

import (
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
	return &cobra.Command{
		Use:     "verify [FILE]",
		Short:   "Read everything again, or a backup, and check that it holds together",
		Example: "  tuckrow verify\n  tuckrow verify cupboard.jsonl",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 {
				return a.verifyFile(cmd.Context(), args[0])
			}
			return a.withStore(func(s cupboard) error {
				n, err := s.Verify()
				if err != nil {
					return err
				}
				a.printf("%d records read at revision %d; all hold together.\n", n, s.Collection().Rev())
				return nil
			})
		},
	}
}
