#!/bin/sh
# seamkeep hook pre-commit, script 1, sum e6875bd45062
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: pre-commit refuses, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or delete $0" >&2
	exit 1
fi
exec "$tool" hook pre-commit "$@"

#!/bin/sh
# seamkeep hook pre-commit, script 1, sum 1cd7e3574d33
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
# The hook that was here before runs first: pre-commit.before-seamkeep
before=$0.before-seamkeep
if [ -f "$before" ] && [ -x "$before" ]; then
	"$before" "$@" || exit $?
fi
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: pre-commit refuses, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or move $0.before-seamkeep back over $0" >&2
	exit 1
fi
exec "$tool" hook pre-commit "$@"

#!/bin/sh
# seamkeep hook pre-merge-commit, script 1, sum 8b051aaecba7
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: pre-merge-commit refuses, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or delete $0" >&2
	exit 1
fi
exec "$tool" hook pre-merge-commit "$@"

#!/bin/sh
# seamkeep hook pre-merge-commit, script 1, sum 65c758d73b30
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
# The hook that was here before runs first: pre-merge-commit.before-seamkeep
before=$0.before-seamkeep
if [ -f "$before" ] && [ -x "$before" ]; then
	"$before" "$@" || exit $?
fi
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: pre-merge-commit refuses, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or move $0.before-seamkeep back over $0" >&2
	exit 1
fi
exec "$tool" hook pre-merge-commit "$@"

#!/bin/sh
# seamkeep hook prepare-commit-msg, script 1, sum a43870e3cd2e
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: prepare-commit-msg does nothing, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or delete $0" >&2
	exit 0
fi
"$tool" hook prepare-commit-msg "$@"
exit 0

#!/bin/sh
# seamkeep hook prepare-commit-msg, script 1, sum 65dab18582da
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
# The hook that was here before runs first: prepare-commit-msg.before-seamkeep
before=$0.before-seamkeep
if [ -f "$before" ] && [ -x "$before" ]; then
	"$before" "$@" || exit $?
fi
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: prepare-commit-msg does nothing, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or move $0.before-seamkeep back over $0" >&2
	exit 0
fi
"$tool" hook prepare-commit-msg "$@"
exit 0

#!/bin/sh
# seamkeep hook commit-msg, script 1, sum 101a743bc4ab
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: commit-msg refuses, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or delete $0" >&2
	exit 1
fi
exec "$tool" hook commit-msg "$@"

#!/bin/sh
# seamkeep hook commit-msg, script 1, sum 36830b2d8179
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
# The hook that was here before runs first: commit-msg.before-seamkeep
before=$0.before-seamkeep
if [ -f "$before" ] && [ -x "$before" ]; then
	"$before" "$@" || exit $?
fi
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: commit-msg refuses, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or move $0.before-seamkeep back over $0" >&2
	exit 1
fi
exec "$tool" hook commit-msg "$@"

#!/bin/sh
# seamkeep hook post-merge, script 1, sum 8d56977d068c
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: post-merge does nothing, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or delete $0" >&2
	exit 0
fi
"$tool" hook post-merge "$@"
exit 0

#!/bin/sh
# seamkeep hook post-merge, script 1, sum 7e280767ceaa
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
# The hook that was here before runs first: post-merge.before-seamkeep
before=$0.before-seamkeep
if [ -f "$before" ] && [ -x "$before" ]; then
	"$before" "$@" || exit $?
fi
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: post-merge does nothing, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or move $0.before-seamkeep back over $0" >&2
	exit 0
fi
"$tool" hook post-merge "$@"
exit 0

#!/bin/sh
# seamkeep hook post-rewrite, script 1, sum 8037ffc232ea
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: post-rewrite does nothing, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or delete $0" >&2
	exit 0
fi
"$tool" hook post-rewrite "$@"
exit 0

#!/bin/sh
# seamkeep hook post-rewrite, script 1, sum b11149bcac9e
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
# The hook that was here before runs first: post-rewrite.before-seamkeep
before=$0.before-seamkeep
input=$(cat; echo x)
input=${input%x}
if [ -f "$before" ] && [ -x "$before" ]; then
	printf '%s' "$input" 2>/dev/null | "$before" "$@" || exit $?
fi
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: post-rewrite does nothing, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or move $0.before-seamkeep back over $0" >&2
	exit 0
fi
printf '%s' "$input" 2>/dev/null | "$tool" hook post-rewrite "$@"
exit 0

#!/bin/sh
# seamkeep hook pre-push, script 1, sum c9427956fcab
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: pre-push refuses, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or delete $0" >&2
	exit 1
fi
exec "$tool" hook pre-push "$@"

#!/bin/sh
# seamkeep hook pre-push, script 1, sum 90f0bf225b22
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
# The hook that was here before runs first: pre-push.before-seamkeep
before=$0.before-seamkeep
input=$(cat; echo x)
input=${input%x}
if [ -f "$before" ] && [ -x "$before" ]; then
	printf '%s' "$input" 2>/dev/null | "$before" "$@" || exit $?
fi
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: pre-push refuses, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or move $0.before-seamkeep back over $0" >&2
	exit 1
fi
printf '%s' "$input" 2>/dev/null | "$tool" hook pre-push "$@"

#!/bin/sh
# seamkeep hook pre-receive, script 1, sum 45ec4d9d04be
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: pre-receive refuses, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or delete $0" >&2
	exit 1
fi
exec "$tool" hook pre-receive "$@"

#!/bin/sh
# seamkeep hook pre-receive, script 1, sum 6b2ffafbb1c8
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
# The hook that was here before runs first: pre-receive.before-seamkeep
before=$0.before-seamkeep
input=$(cat; echo x)
input=${input%x}
if [ -f "$before" ] && [ -x "$before" ]; then
	printf '%s' "$input" 2>/dev/null | "$before" "$@" || exit $?
fi
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: pre-receive refuses, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or move $0.before-seamkeep back over $0" >&2
	exit 1
fi
printf '%s' "$input" 2>/dev/null | "$tool" hook pre-receive "$@"

#!/bin/sh
# seamkeep hook update, script 1, sum 0551ecd0fd1d
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: update refuses, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or delete $0" >&2
	exit 1
fi
exec "$tool" hook update "$@"

#!/bin/sh
# seamkeep hook update, script 1, sum 5e544fdc097f
# Written by seamkeep; "seamkeep hooks remove" takes it out. Once edited, it is left alone.
# Folders made for it: 1
# The hook that was here before runs first: update.before-seamkeep
before=$0.before-seamkeep
if [ -f "$before" ] && [ -x "$before" ]; then
	"$before" "$@" || exit $?
fi
tool=$(command -v seamkeep)
case $tool in
/*) [ -x "$tool" ] || tool= ;;
*) tool= ;;
esac
[ -n "$tool" ] || tool='/opt/it'\''s $here/seamkeep'
if [ ! -f "$tool" ] || [ ! -x "$tool" ]; then
	printf '%s\n' "seamkeep: update refuses, its program is missing: \"go install ./cmd/seamkeep\" in its source folder, then \"seamkeep hooks install\" here; or move $0.before-seamkeep back over $0" >&2
	exit 1
fi
exec "$tool" hook update "$@"

