package main

import (
	"io"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/exchange"
	"github.com/spf13/cobra"
)

func (a *app) exportCommand() *cobra.Command {
	var as, out string
	var replace bool
	cmd := &cobra.Command{
		Use:   "export",
		Short: "Write everything out, as CSV or JSON Lines",
		Long: `Writes everything out. JSON Lines holds the whole cupboard and is what a move to
another machine needs; CSV holds the copies, one row each, for a spreadsheet.
Cells that a spreadsheet would run as formulas get an apostrophe in front, which
import takes off again.`,
		Example: "  tuckrow export --as jsonl --out cupboard.jsonl\n  tuckrow export --as csv --out patterns.csv",
		Args:    noArgs,
		RunE: func(*cobra.Command, []string) error {
			write := exchange.WriteCSV
			switch as {
			case "csv":
			case "jsonl":
				write = exchange.WriteJSONL
			default:
				return model.Inputf("--as %q is not known; use csv or jsonl", as)
			}
			return a.withStore(func(s cupboard) error {
				return a.exportTo(out, replace, func(w io.Writer) error { return write(w, s.Collection()) })
			})
		},
	}
	cmd.Flags().StringVar(&as, "as", "csv", "csv or jsonl")
	cmd.Flags().StringVar(&out, "out", "", "file to write (else the output)")
	cmd.Flags().BoolVar(&replace, "replace", false, "let it take the place of a file that is there")
	return cmd
}
