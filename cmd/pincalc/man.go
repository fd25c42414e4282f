//go:build man

package main

import (
	"fmt"
	"os"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"pinphase.org/pinphase"
)

// The manual pages are written by a build of their own, so that the program that
// is shipped does not carry their writer.
func init() {
	extra = append(extra, func() *cobra.Command {
		return &cobra.Command{
			Use:   "man FOLDER",
			Short: "Write the manual pages into a folder",
			Args:  cobra.ExactArgs(1),
			RunE: func(cmd *cobra.Command, args []string) error {
				if err := os.MkdirAll(args[0], 0o755); err != nil {
					return failure{err}
				}
				root := newRoot(newShell(streams{}))
				root.DisableAutoGenTag = true
				for _, c := range root.Commands() {
					if c.Name() == "man" || c.Name() == "manual" {
						root.RemoveCommand(c)
					}
				}
				header := doc.GenManHeader{Section: "1", Source: "Pinphase " + pinphase.About().Version, Manual: "User commands"}
				if err := doc.GenManTree(root, &header, args[0]); err != nil {
					return failure{fmt.Errorf("writing the manual pages: %w", err)}
				}
				return nil
			},
		}
	})
}
