// Package network holds the road graph as flat arrays indexed by small
// integers: nodes where lines meet, edges between them, and for every edge two
// arcs, one a direction. It says what the data carries and what it lacks, so
// that nothing absent is taken for clear.
//
// # The network file
//
// A network file is read-only and laid out so that its columns are used where
// they lie, mapped into memory: opening one reads its head and nothing else.
// All numbers are little-endian.
//
//	offset  size  what
//	0       8     magic "wayroads"
//	8       4     version of the format, 4
//	12      4     number of sections, n
//	16      8     size of the file in bytes
//	24      4     CRC-32C (Castagnoli) of the section table
//	28      4     CRC-32C of the 28 bytes before
//	32      40 n  section table
//	...           sections, each at a multiple of 64
//
// An entry of the section table is a name of 16 bytes filled up with zeros,
// the offset (8) and size (8) of the section, the width of one value (4) and
// the CRC-32C of the section (4). Sections stand in the order of the table;
// what lies between them is zero. A reader refuses a section that it does not
// know, one that is missing and one whose width is not its own, so a change of
// any row is a new version.
//
// The sections are the columns of [Network], named after them; tables of byte
// strings are two sections, the starts and the bytes. Section "about" is
// [About] as JSON, "report" says how the network was made, as JSON.
//
// From "buckets" on they are what searches work on: which rigs share a lower bound
// (see [Bucket]), as JSON; the core of the network, its dead-end trees stripped
// and its chains merged, with where every node and edge went; the order of
// contraction; what core arcs cost for each top speed and preference; and for each
// bucket six columns of its hierarchy. All but the buckets are empty where a
// network was not prepared. The revision of a network does not hang on them.
//
// The last two tell of the file: "page sums" is the CRC-32C of every 4096 bytes from the
// first section to the end of the one before it, and "seal" one number of 8 bytes: 0, or
// 2^32 plus the CRC-32C of a byte (what was asked when the network was verified, 1) and the
// section table up to it.
//
// [Open] checks the head. [Network.Verify] reads everything: each checksum, and that every
// number points to something that is there. [Network.Ready] asks no more than the seal and
// a stamp beside the file leave to ask; whoever plans on a file calls it first.
package network
