"""Archives from outside: what the library raises on one that is damaged, for whoever tells it in a sentence.

Found by turning bytes of good archives.
"""

import struct
import zipfile
import zlib

# RuntimeError: locked with a password. A file that cannot be read at all raises OSError, which is not the archive's.
DAMAGED = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    struct.error,
    NotImplementedError,
    RuntimeError,
    UnicodeDecodeError,
    OverflowError,
    ValueError,
)
