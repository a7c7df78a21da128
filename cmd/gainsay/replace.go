package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"
)

// disk is what a file is replaced through. Tests put one in its place that fails.
type disk interface {
	// openFile opens with os.O flags.
	openFile(name string, flag int, perm fs.FileMode) (diskFile, error)
	stat(name string) (fs.FileInfo, error)
	rename(from, to string) error
	remove(name string) error
	syncFolder(name string) error
}

type diskFile interface {
	io.ReadWriteCloser
	Stat() (fs.FileInfo, error)
	Chmod(fs.FileMode) error
	Chown(uid, gid int) error
	Sync() error
	// tryLock reports whether the file is locked for this program from now on. The
	// lock ends when the file is closed or the program ends.
	tryLock(created bool) (bool, error)
}

type osDisk struct{}

type osFile struct{ *os.File }

func (osDisk) openFile(name string, flag int, perm fs.FileMode) (diskFile, error) {
	f, err := os.OpenFile(name, flag, perm)
	if err != nil {
		return nil, err
	}
	return osFile{f}, nil
}

func (osDisk) stat(name string) (fs.FileInfo, error) { return os.Stat(name) }
func (osDisk) rename(from, to string) error          { return os.Rename(from, to) }
func (osDisk) remove(name string) error              { return os.Remove(name) }

func (osDisk) syncFolder(name string) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

func (f osFile) tryLock(created bool) (bool, error) { return lockFile(f.File, created) }

// Causes of an error of a file that is to be replaced.
var (
	errBusy     = errors.New("another run is writing this file; try again when it has ended")
	errReadOnly = errors.New("the file may not be written; allow it with chmod u+w")
	errChanged  = errors.New("the file changed while it was being edited; try again")
	errNames    = errors.New("the file has other names (hard links), which would keep the old text; edit it by hand")
	errOwner    = errors.New("the owner of the file cannot be kept")
)

// lockWait is how long a file may be locked by another run.
const lockWait = 30 * time.Second

// aside is a file that is written beside the one whose name it takes when it is whole.
// Until then it is locked, so that one run at a time writes a file. Its name depends on
// the other's name alone: what a run left that was killed is taken away by the next.
type aside struct {
	diskFile
	on     disk
	name   string // of the file to replace
	beside string // its own
	target fs.FileInfo
	kept   bool
	forget func()
}

// asideName is short whatever the name is, so that it can stand beside any.
func asideName(name string) string {
	sum := sha256.Sum256([]byte(filepath.Base(name)))
	return filepath.Join(filepath.Dir(name), ".gainsay-"+hex.EncodeToString(sum[:8])+".new")
}

// newAside makes the file. An interruption takes it away: the watch stands before the
// file does, so that none in between goes unseen. The file to replace, where there is
// one, must be one that may be written.
func newAside(on disk, name string, wait time.Duration) (*aside, error) {
	a := &aside{on: on, name: name, beside: asideName(name)}
	var making sync.Mutex
	a.forget = onInterrupt(func() {
		making.Lock() // and never unlocked: the program ends here
		if a.diskFile != nil && !a.kept {
			on.remove(a.beside)
		}
	})
	making.Lock()
	err := a.lock(wait)
	making.Unlock()
	if err == nil {
		err = a.look()
	}
	if err != nil {
		a.drop()
		return nil, err
	}
	return a, nil
}

// lock makes the file and locks it.
func (a *aside) lock(wait time.Duration) error {
	for until := time.Now().Add(wait); ; time.Sleep(5 * time.Millisecond) {
		f, err := a.on.openFile(a.beside, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		created := err == nil
		if errors.Is(err, fs.ErrExist) {
			f, err = a.on.openFile(a.beside, os.O_WRONLY, 0)
			if errors.Is(err, fs.ErrNotExist) {
				continue // it has just been taken away
			}
		}
		if err != nil {
			return err
		}
		locked, err := f.tryLock(created)
		ours := false
		if err == nil && locked {
			// Another run may have taken it away, or given it the other name, before.
			var mine, there fs.FileInfo
			if mine, err = f.Stat(); err == nil {
				there, err = a.on.stat(a.beside)
			}
			ours = err == nil && os.SameFile(mine, there)
			if errors.Is(err, fs.ErrNotExist) {
				err = nil
			}
		}
		switch {
		case err != nil:
			f.Close()
			if created {
				a.on.remove(a.beside)
			}
			return err
		case ours && created:
			a.diskFile = f
			return nil
		case ours:
			// A run that was killed left it.
			if err := a.on.remove(a.beside); err != nil {
				f.Close()
				return err
			}
		}
		f.Close()
		if !ours && time.Now().After(until) {
			return errBusy
		}
	}
}

// look holds that the file to replace may be replaced.
func (a *aside) look() error {
	info, err := a.on.stat(a.name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	} else if err != nil {
		return err
	}
	a.target = info
	if info.Mode().Perm()&0o222 == 0 {
		return errReadOnly
	}
	f, err := a.on.openFile(a.name, os.O_WRONLY, 0)
	if errors.Is(err, fs.ErrPermission) {
		return errReadOnly
	} else if err != nil {
		return err
	}
	return errors.Join(a.Chmod(0o600), f.Close()) // others see it when it is whole
}

// keep gives the file its name, and owner and mode of the one it replaces. Content is
// on the disk before the name is.
func (a *aside) keep() error {
	if a.target != nil {
		if uid, gid, ok := owner(a.target); ok {
			mine, err := a.Stat()
			if err != nil {
				return err
			}
			if u, g, _ := owner(mine); u != uid || g != gid {
				if err := a.Chown(uid, gid); err != nil {
					return errOwner
				}
			}
		}
		if err := a.Chmod(a.target.Mode().Perm()); err != nil {
			return err
		}
	}
	if err := a.Sync(); err != nil {
		return err
	}
	if err := a.on.rename(a.beside, a.name); err != nil {
		return err
	}
	a.kept = true
	// The file has been replaced, so what fails from here on does not undo it.
	_ = a.on.syncFolder(filepath.Dir(a.name))
	return nil
}

// drop takes the file away, unless it was kept.
func (a *aside) drop() {
	if a.diskFile != nil {
		if !a.kept {
			a.on.remove(a.beside)
		}
		a.Close()
	}
	a.forget()
}

// edit replaces a file by what change makes of its text, under a lock from before it is
// read. What change returns with an error is not written. The file is the old one or the
// new one whole, whatever fails.
func edit(on disk, name string, most int64, wait time.Duration, change func(before []byte) (after []byte, err error)) error {
	a, err := newAside(on, name, wait)
	if err != nil {
		return err
	}
	defer a.drop()
	if a.target == nil {
		return fs.ErrNotExist
	}
	if names(a.target) > 1 {
		return errNames
	}
	before, err := readFile(on, name, most)
	if err != nil {
		return err
	}
	after, err := change(before)
	if err != nil {
		return err
	}
	if _, err := a.Write(after); err != nil {
		return err
	}
	// The lock holds other runs off, and no editor.
	info, err := on.stat(name)
	if err != nil {
		return err
	}
	now, err := readFile(on, name, most)
	if err != nil {
		return err
	}
	if !os.SameFile(info, a.target) || string(now) != string(before) {
		return errChanged
	}
	return a.keep()
}

// readFile reads a file, at most one byte more than so many.
func readFile(on disk, name string, most int64) ([]byte, error) {
	f, err := on.openFile(name, os.O_RDONLY, 0)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most+1))
}
