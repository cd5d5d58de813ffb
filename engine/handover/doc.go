// Package handover puts a homeowner's or a dispatcher's call into a code short
// enough to read out over a telephone, and reads it again, so that a
// technician goes on without asking anything twice.
//
//	code, err := handover.Code(handed) // as in "0H4K-2M9D-…"
//	handed, err := handover.Parse(code)
//
// A code carries the complaint, what is known of the house and every look and
// reading in its setup; it carries no name, no address and no free text. Letters
// are taken in either case, O for 0 and I or L for 1; a slip is found by its
// checksum.
//
// May import: session, house, quantity.
package handover
