package store

import (
	"errors"
	"os"
	"syscall"
)

// aclName is the attribute in which Linux keeps a file's access list: acl(5).
const aclName = "system.posix_acl_access"

// maxACL is as much as an attribute can hold: xattr(7).
const maxACL = 64 << 10

func (system) ACL(path string) ([]byte, error) {
	buf := make([]byte, maxACL)
	n, err := syscall.Getxattr(path, aclName, buf)
	if noACL(err) {
		return nil, nil
	}
	if err != nil {
		return nil, &os.PathError{Op: "getxattr", Path: path, Err: err}
	}
	return buf[:n], nil
}

func (system) SetACL(path string, acl []byte) error {
	var err error
	if acl != nil {
		err = syscall.Setxattr(path, aclName, acl, 0)
	} else if err = syscall.Removexattr(path, aclName); noACL(err) {
		err = nil
	}
	if err != nil {
		return &os.PathError{Op: "setxattr", Path: path, Err: err}
	}
	return nil
}

// noACL tells whether an error says that a file has no access list, or that its file
// system has none at all.
func noACL(err error) bool {
	return errors.Is(err, syscall.ENODATA) || errors.Is(err, syscall.EOPNOTSUPP) || errors.Is(err, syscall.ENOSYS)
}
