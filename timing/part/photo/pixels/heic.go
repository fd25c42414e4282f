//go:build !noheic

package pixels

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"image"
	"io"
	"math"
	"sync"
	_ "unsafe" // for go:linkname

	"github.com/gen2brain/heic" // for its decoder alone
	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"
	"github.com/tetratelabs/wazero/imports/wasi_snapshot_preview1"

	"pinphase.org/pinphase/timing/part/photo"
)

// The decoder, libheif and libde265 as WebAssembly. The library that carries it
// runs it without a bound on its memory and to the end, whatever the file asks
// for; the program is therefore run here, in memory that is bounded, and ends when it is
// told.
//
//go:linkname heifWasm github.com/gen2brain/heic.heifWasm
var heifWasm []byte

var _ = heic.ErrDecode

// HEIC tells whether this build has the decoder of HEIC.
const HEIC = true

// heicMemory is how many bytes one picture gets: what the largest there may be takes,
// and the file.
const heicMemory = 8*photo.MaxMegapixels*1e6 + photo.MaxFileBytes + 16<<20

// decoder runs the program, for one picture at a time.
type decoder struct {
	runtime wazero.Runtime
	program wazero.CompiledModule
	most    uint64 // bytes of memory
	free    chan struct{}
}

// newDecoder prepares the program: half a second's work.
func newDecoder(most uint64) (*decoder, error) {
	packed, err := gzip.NewReader(bytes.NewReader(heifWasm))
	if err != nil {
		return nil, err
	}
	code, err := io.ReadAll(packed)
	if err != nil {
		return nil, err
	}
	ctx := experimental.WithFunctionListenerFactory(context.Background(), experimental.FunctionListenerFactoryFunc(pauses))
	r := wazero.NewRuntime(ctx)
	if _, err := wasi_snapshot_preview1.Instantiate(ctx, r); err != nil {
		return nil, err
	}
	program, err := r.CompileModule(ctx, code)
	return &decoder{r, program, most, make(chan struct{}, 1)}, err
}

var theDecoder = sync.OnceValues(func() (*decoder, error) { return newDecoder(heicMemory) })

func decodeHEIC(ctx context.Context, data []byte) (image.Image, error) {
	d, err := theDecoder()
	if err != nil {
		return nil, err
	}
	select {
	case d.free <- struct{}{}:
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	defer func() { <-d.free }()
	img, err := d.decode(ctx, data)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	return img, err
}

// pauses has the program look up at nearly every call within it, which is every few
// microseconds. While it computes it is in no hands of Go's: it could not be stopped, and
// a collection of garbage would hold everything else in this process, the window too,
// until it comes out. The runtime's own way to stop a program makes it five times as
// slow; this one a tenth, as the three functions that are called most, millions of times
// for a picture, are left alone.
func pauses(f api.FunctionDefinition) experimental.FunctionListener {
	switch f.Index() {
	case 692, 694, 1284: // a bit decoded, and two like it
		return nil
	}
	return experimental.FunctionListenerFunc(func(ctx context.Context, _ api.Module, _ api.FunctionDefinition, _ []uint64, _ experimental.StackIterator) {
		if ctx.Err() != nil {
			panic(errProgram)
		}
	})
}

var errProgram = errors.New("pixels: the decoder of HEIC gave up")

// memory is that of one run. Where it wants more than it may have, or the context has
// ended, the run ends: the program would not notice that it got none.
type memory struct {
	ctx  context.Context
	most uint64
	b    []byte
}

// Reallocate implements [experimental.LinearMemory].
func (m *memory) Reallocate(size uint64) []byte {
	if size > m.most || m.ctx.Err() != nil {
		panic(errProgram)
	}
	if grown := size - uint64(len(m.b)); size > uint64(cap(m.b)) {
		m.b = append(m.b, make([]byte, grown)...)
	}
	m.b = m.b[:size]
	return m.b
}

// Free implements [experimental.LinearMemory]. A picture may still look into it.
func (m *memory) Free() {}

// decode runs the program on one picture, in memory of its own.
func (d *decoder) decode(ctx context.Context, data []byte) (image.Image, error) {
	ctx = experimental.WithMemoryAllocator(ctx, experimental.MemoryAllocatorFunc(func(uint64, uint64) experimental.LinearMemory {
		return &memory{ctx: ctx, most: d.most}
	}))
	m, err := d.runtime.InstantiateModule(ctx, d.program, wazero.NewModuleConfig().WithName(""))
	if err != nil {
		return nil, err
	}
	defer m.Close(context.Background())
	call := func(name string, args ...uint64) (uint32, error) {
		out, err := m.ExportedFunction(name).Call(ctx, args...)
		if err != nil {
			return 0, err
		}
		return uint32(out[0]), nil
	}
	room := func(size int64) (uint32, error) {
		if size <= 0 || size > math.MaxInt32 {
			return 0, errProgram
		}
		at, err := call("malloc", uint64(size))
		if err == nil && at == 0 {
			err = errProgram
		}
		return at, err
	}
	in, err := room(int64(len(data)))
	if err != nil {
		return nil, err
	}
	if !m.Memory().Write(in, data) {
		return nil, errProgram
	}
	says, err := room(5 * 4)
	if err != nil {
		return nil, err
	}
	// decode(file, its size, only the sizes, five places to write to, the picture)
	run := func(only, picture uint32) error {
		args := []uint64{uint64(in), uint64(len(data)), uint64(only)}
		for i := range uint32(5) {
			args = append(args, uint64(says+4*i))
		}
		if ok, err := call("decode", append(args, uint64(picture))...); err != nil || ok == 0 {
			return errors.Join(errProgram, err)
		}
		return nil
	}
	if err := run(1, 0); err != nil {
		return nil, err
	}
	p, ok := planesOf(m.Memory(), says)
	if !ok {
		return nil, errProgram
	}
	out, err := room(p.size())
	if err != nil {
		return nil, err
	}
	if err := run(0, out); err != nil {
		return nil, err
	}
	pixels, ok := m.Memory().Read(out, uint32(p.size()))
	if !ok {
		return nil, errProgram
	}
	return p.picture(pixels), nil
}

// planes is how the program lays out a picture: each plane's rows begin at multiples
// of 16 bytes. The numbers are those of libheif's heif_colorspace and heif_chroma.
type planes struct {
	width, height int
	kind          image.YCbCrSubsampleRatio
	grey          bool
	colours       bool // red, green, blue, alpha
	premultiplied bool
}

func planesOf(m api.Memory, says uint32) (planes, bool) {
	var v [5]uint32 // width, height, colour space, chroma, premultiplied
	for i := range v {
		var ok bool
		if v[i], ok = m.ReadUint32Le(says + 4*uint32(i)); !ok {
			return planes{}, false
		}
	}
	p := planes{width: int(v[0]), height: int(v[1]), premultiplied: v[4] == 1}
	if v[0] == 0 || v[1] == 0 || float64(v[0])*float64(v[1]) > photo.MaxMegapixels*1e6 {
		return p, false
	}
	switch v[2] {
	case 0:
		kinds := map[uint32]image.YCbCrSubsampleRatio{1: image.YCbCrSubsampleRatio420, 2: image.YCbCrSubsampleRatio422, 3: image.YCbCrSubsampleRatio444}
		var ok bool
		p.kind, ok = kinds[v[3]]
		return p, ok
	case 1:
		p.colours = true
		return p, true
	}
	p.grey = v[2] == 2
	return p, p.grey
}

func padded(n int) int { return (n + 15) &^ 15 }

// chroma is the width of a row and the number of rows of a plane of colours.
func (p planes) chroma() (stride, rows int) {
	w, h := p.width, p.height
	if p.kind != image.YCbCrSubsampleRatio444 {
		w = (w + 1) / 2
	}
	if p.kind == image.YCbCrSubsampleRatio420 {
		h = (h + 1) / 2
	}
	return padded(w), h
}

func (p planes) size() int64 {
	switch {
	case p.colours:
		return int64(padded(4*p.width)) * int64(p.height)
	case p.grey:
		return int64(padded(p.width)) * int64(p.height)
	}
	cw, ch := p.chroma()
	return int64(padded(p.width))*int64(p.height) + 2*int64(cw)*int64(ch)
}

func (p planes) picture(pix []byte) image.Image {
	rect := image.Rect(0, 0, p.width, p.height)
	switch {
	case p.grey:
		return &image.Gray{Pix: pix, Stride: padded(p.width), Rect: rect}
	case p.colours && p.premultiplied:
		return &image.RGBA{Pix: pix, Stride: padded(4 * p.width), Rect: rect}
	case p.colours:
		return &image.NRGBA{Pix: pix, Stride: padded(4 * p.width), Rect: rect}
	}
	cw, ch := p.chroma()
	y := padded(p.width) * p.height
	return &image.YCbCr{
		Y: pix[:y:y], Cb: pix[y : y+cw*ch : y+cw*ch], Cr: pix[y+cw*ch:], YStride: padded(p.width), CStride: cw,
		SubsampleRatio: p.kind, Rect: rect,
	}
}
