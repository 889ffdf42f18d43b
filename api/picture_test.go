package api_test

import (
	"bytes"
	"image/png"
	"net/http"
	"testing"
)

// The drawing of a rig is a PNG where that is asked for: it decodes, and is no empty sheet.
func TestDrawingAsPNG(t *testing.T) {
	w := ask(t.Context(), handler(), http.MethodPost, "/v1/rigs/drawing", text(described(t)), "Accept", "image/png")
	expect(t, w, http.StatusOK, "image/png")
	drawn, err := png.Decode(bytes.NewReader(w.Body.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	shades := map[[3]uint32]bool{}
	b := drawn.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y += 2 {
		for x := b.Min.X; x < b.Max.X; x += 2 {
			r, g, blue, _ := drawn.At(x, y).RGBA()
			shades[[3]uint32{r, g, blue}] = true
		}
	}
	if b.Dx() < 1000 || b.Dy() < 1000 || len(shades) < 10 {
		t.Errorf("%v with %d shades", b, len(shades))
	}
}
