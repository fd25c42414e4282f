//go:build noheic

package pixels

import (
	"strings"
	"testing"
)

// A build without the decoder says so, and reads everything else.
func TestWithoutHEIC(t *testing.T) {
	_, _, err := Decode(t.Context(), readTestFile(t, "lying.heic"), 0)
	if err == nil || !strings.Contains(err.Error(), "this program was built without what decodes them; save it as JPEG") {
		t.Errorf("%v", err)
	}
	if _, _, err := Decode(t.Context(), readTestFile(t, "lossy.webp"), 0); err != nil {
		t.Errorf("WebP: %v", err)
	}
}
