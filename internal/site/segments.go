package site

import (
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// The linker leaves runs of zeros out of a program's data and so cuts it into
// tens of thousands of segments, each with a head of its own that compresses
// badly. Long runs of zeros compress to nothing, so that few long segments are
// smaller when they arrive.

// mergeGap is the longest run of zeros, in bytes, that is written out to join
// two segments.
const mergeGap = 4096

// Sections of a WebAssembly module that matter here (WebAssembly Core
// Specification 1.0, 5.5.2).
const (
	sectionData      = 11
	sectionDataCount = 12
)

// Opcodes of the one constant expression that a segment's place is given by.
const (
	opI32Const = 0x41
	opEnd      = 0x0b
)

const wasmHead = 8 // magic number and version

var errModule = errors.New("not a WebAssembly module that can be read")

// segment is an active data segment of memory 0: bytes that memory holds from
// an address on when the program starts.
type segment struct {
	at   int64
	data []byte
}

func (s segment) end() int64 { return s.at + int64(len(s.data)) }

// mergeSegments joins neighbouring data segments of a module that lie no more
// than gap bytes apart. Memory starts as zeros, so that it holds the same bytes
// as before. A module whose data it does not wholly understand is an error.
func mergeSegments(module []byte, gap int64) ([]byte, error) {
	return withData(module, func(segments []segment) []segment { return joined(segments, gap) })
}

// withData changes the data segments of a module.
func withData(module []byte, change func([]segment) []segment) ([]byte, error) {
	if len(module) < wasmHead || string(module[:4]) != "\x00asm" {
		return nil, errModule
	}
	out := append(make([]byte, 0, len(module)), module[:wasmHead]...)
	for rest := module[wasmHead:]; len(rest) > 0; {
		id, body, next, err := section(rest)
		if err != nil {
			return nil, err
		}
		switch id {
		case sectionDataCount:
			return nil, fmt.Errorf("%w: its data segments are counted elsewhere as well", errModule)
		case sectionData:
			segments, err := readSegments(body)
			if err != nil {
				return nil, err
			}
			body = writeSegments(change(segments))
			out = append(out, sectionData)
			out = binary.AppendUvarint(out, uint64(len(body)))
			out = append(out, body...)
		default:
			out = append(out, rest[:len(rest)-len(next)]...)
		}
		rest = next
	}
	return out, nil
}

// section parts the first section from what follows it.
func section(b []byte) (id byte, body, next []byte, err error) {
	size, n := binary.Uvarint(b[1:])
	if n <= 0 || size > uint64(len(b)-1-n) {
		return 0, nil, nil, fmt.Errorf("%w: a section is longer than the file", errModule)
	}
	body, next = b[1+n:][:size], b[1+n:][size:]
	return b[0], body, next, nil
}

// readSegments reads the data section, in the order of memory. Overlapping
// segments, whose order would matter, are an error.
func readSegments(b []byte) ([]segment, error) {
	count, n := binary.Uvarint(b)
	if n <= 0 || count > uint64(len(b)) {
		return nil, fmt.Errorf("%w: the count of data segments", errModule)
	}
	b = b[n:]
	segments := make([]segment, 0, count)
	for range count {
		s, rest, err := readSegment(b)
		if err != nil {
			return nil, err
		}
		segments, b = append(segments, s), rest
	}
	if len(b) != 0 {
		return nil, fmt.Errorf("%w: bytes after the last data segment", errModule)
	}
	slices.SortStableFunc(segments, func(a, b segment) int { return cmp.Compare(a.at, b.at) })
	for i := 1; i < len(segments); i++ {
		if segments[i].at < segments[i-1].end() {
			return nil, fmt.Errorf("%w: data segments overlap at %d", errModule, segments[i].at)
		}
	}
	return segments, nil
}

func readSegment(b []byte) (segment, []byte, error) {
	bad := fmt.Errorf("%w: a data segment", errModule)
	if len(b) < 2 || b[0] != 0 || b[1] != opI32Const {
		return segment{}, nil, bad
	}
	at, n := signed(b[2:])
	b = b[2+n:]
	if n == 0 || at < 0 || len(b) == 0 || b[0] != opEnd {
		return segment{}, nil, bad
	}
	size, n := binary.Uvarint(b[1:])
	if n <= 0 || size > uint64(len(b)-1-n) {
		return segment{}, nil, bad
	}
	return segment{at, b[1+n:][:size]}, b[1+n:][size:], nil
}

// joined is the segments with the short runs of zeros between them filled in.
func joined(segments []segment, gap int64) []segment {
	var out []segment
	for _, s := range segments {
		if len(s.data) == 0 {
			continue
		}
		last := len(out) - 1
		if last < 0 || s.at-out[last].end() > gap {
			out = append(out, segment{s.at, append([]byte(nil), s.data...)})
			continue
		}
		zeros := make([]byte, s.at-out[last].end())
		out[last].data = append(append(out[last].data, zeros...), s.data...)
	}
	return out
}

func writeSegments(segments []segment) []byte {
	b := binary.AppendUvarint(nil, uint64(len(segments)))
	for _, s := range segments {
		b = append(b, 0, opI32Const)
		b = appendSigned(b, s.at)
		b = append(b, opEnd)
		b = binary.AppendUvarint(b, uint64(len(s.data)))
		b = append(b, s.data...)
	}
	return b
}

// signed reads a 32-bit number in signed LEB128, as addresses are written; n is
// its length, 0 when there is none.
func signed(b []byte) (v int64, n int) {
	for shift := 0; n < len(b) && n < 5; shift += 7 {
		c := b[n]
		n++
		v |= int64(c&0x7f) << shift
		if c&0x80 == 0 {
			if c&0x40 != 0 {
				v |= -1 << (shift + 7)
			}
			return v, n
		}
	}
	return 0, 0
}

func appendSigned(b []byte, v int64) []byte {
	for {
		c := byte(v & 0x7f)
		v >>= 7
		if v == 0 && c&0x40 == 0 {
			return append(b, c)
		}
		b = append(b, c|0x80)
	}
}
