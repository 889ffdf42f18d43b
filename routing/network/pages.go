package network

import (
	"hash/crc32"
	"slices"
)

// pageSize is how many bytes of a file one sum is of.
const pageSize = 4096

// pager sums up the pages of what is written to it.
type pager struct {
	sums   []uint32
	sum    uint32
	filled int
}

func (p *pager) write(raw []byte) {
	for len(raw) > 0 {
		part := raw[:min(len(raw), pageSize-p.filled)]
		raw = raw[len(part):]
		p.sum = crc32.Update(p.sum, castagnoli, part)
		if p.filled += len(part); p.filled == pageSize {
			p.finish()
		}
	}
}

// finish ends a page, if one was begun, and returns all sums.
func (p *pager) finish() []uint32 {
	if p.filled > 0 {
		p.sums, p.sum, p.filled = append(p.sums, p.sum), 0, 0
	}
	return p.sums
}

// paged is the part of a file that pages are of: from the first section to the last
// before their sums.
func (m *mapping) paged() []byte {
	if len(m.table) < 3 {
		return nil
	}
	last := m.table[len(m.table)-3]
	return m.raw[m.table[0].Offset : last.Offset+last.Size]
}

// checkPageCount wants a sum of every page, and a seal.
func (m *mapping) checkPageCount() error {
	if n := (len(m.paged()) + pageSize - 1) / pageSize; len(m.sums) != n || len(m.seal) != 1 {
		return damaged("%d sums of %d pages, %d seals", len(m.sums), n, len(m.seal))
	}
	return nil
}

// checkPages wants all sums to be right.
func (m *mapping) checkPages() error {
	var p pager
	p.write(m.paged())
	if !slices.Equal(p.finish(), m.sums) {
		return damaged("the sums of its pages are not right")
	}
	return nil
}

// rightPages wants the sums of the pages of some bytes of the file to be right. What was
// right once is not read again. Empty is right.
func (m *mapping) rightPages(from, until uint64) error {
	paged, base := m.paged(), m.table[0].Offset
	for page := (from - base) / pageSize; page*pageSize < until-base; page++ {
		word, bit := &m.good[page/32], uint32(1)<<(page%32)
		if word.Load()&bit != 0 {
			continue
		}
		part := paged[page*pageSize : min((page+1)*pageSize, uint64(len(paged)))]
		if crc32.Checksum(part, castagnoli) != m.sums[page] {
			return damaged("section %q is damaged: page %d has another checksum", m.sectionAt(from), page)
		}
		word.Or(bit)
	}
	return nil
}

// sectionAt names the section that holds a byte.
func (m *mapping) sectionAt(at uint64) string {
	for _, e := range m.table {
		if at < e.Offset+e.Size {
			return e.name()
		}
	}
	return ""
}
