//go:build man

package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase"
	chapters "pinphase.org/pinphase/assets/manual"
	"pinphase.org/pinphase/assets/manual/book"
)

// The manual is written by the same build as the manual pages.
func init() {
	extra = append(extra, func() *cobra.Command {
		return &cobra.Command{
			Use:   "manual FOLDER",
			Short: "Write the manual into a folder, as HTML and PDF in each language",
			Args:  cobra.ExactArgs(1),
			RunE: func(_ *cobra.Command, args []string) error {
				if err := os.MkdirAll(args[0], 0o755); err != nil {
					return failure{err}
				}
				version, date := pinphase.About().Version, buildDate()
				for _, lang := range chapters.Languages {
					var page, pdf bytes.Buffer
					if err := book.WriteHTML(&page, lang, version); err != nil {
						return failure{fmt.Errorf("the manual as HTML: %w", err)}
					}
					if err := book.WritePDF(&pdf, lang, version, date); err != nil {
						return failure{fmt.Errorf("the manual as PDF: %w", err)}
					}
					for ending, b := range map[string][]byte{".html": page.Bytes(), ".pdf": pdf.Bytes()} {
						if err := os.WriteFile(filepath.Join(args[0], "manual-"+lang+ending), b, 0o644); err != nil {
							return failure{err}
						}
					}
				}
				return nil
			},
		}
	})
}

// buildDate is what SOURCE_DATE_EPOCH says, so that a release has the same bytes every
// time; else now.
func buildDate() time.Time {
	if s, err := strconv.ParseInt(os.Getenv("SOURCE_DATE_EPOCH"), 10, 64); err == nil {
		return time.Unix(s, 0).UTC()
	}
	return time.Now().UTC()
}
