package journal

import "io"

// Disk is one folder of journals. Its errors answer errors.Is with
// fs.ErrExist and fs.ErrNotExist.
type Disk interface {
	// ReadFile reads a whole file.
	ReadFile(name string) ([]byte, error)
	// Create makes a new file to append to; it fails where one exists.
	Create(name string) (File, error)
	// Append opens an existing file to append to.
	Append(name string) (File, error)
	// Sync makes the folder's own entries durable.
	Sync() error
}

// File is an open file of a Disk: every Write goes to its end.
type File interface {
	io.Writer
	Truncate(size int64) error
	Sync() error
	Close() error
}
