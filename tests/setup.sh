# setup.sh - read by demo/run and tests/run: Debian packages, and a build beside the sources.
# shellcheck shell=bash

build_packages=(
    autoconf automake libtool pkg-config gcc make libc6-dev
    libglib2.0-dev libsndfile1-dev libsoxr-dev libfftw3-dev libgsl-dev
    libxml2-dev libzip-dev                 # scores
    libespeak-ng-dev libexttextcat-dev     # pronunciation of words, language of a text
    libexttextcat-data
    libjson-glib-dev libcairo2-dev libpango1.0-dev librsvg2-dev
    libavformat-dev libavcodec-dev libavutil-dev libseccomp-dev # M4A, MP4, MOV, WebM, MKA
    fonts-dejavu-core # letters of the phonetic alphabet in the pictures
)
test_packages=(
    libcmocka-dev          # unit tests
    libaubio-dev           # a second pitch tracker to compare with
    aubio-tools            # the same as a yardstick of speed
    libxml2-utils          # validates with that definition
    python3                # another reader of scores to compare with
    espeak-ng sox          # spoken vowels, and sounds in other formats
    ffmpeg                 # the same, and films
    mandoc xz-utils        # manual pages, make distcheck
    parallel jq            # a folder of thousands, results joined
)
# It fetches the CMU Pronouncing Dictionary and the definition of MusicXML; a Node.js from elsewhere brings its own.
command -v npm >/dev/null || test_packages+=(npm)

as_root() {
    if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi
}

# install_packages PACKAGE... - installs those that are missing, and says so first.
install_packages() {
    local package missing=()
    if ! command -v dpkg-query >/dev/null; then
        echo "This is no Debian system; please install what matches these packages: $*"
        return 0
    fi
    for package in "$@"; do
        dpkg-query -W -f='${Status}\n' "$package" 2>/dev/null | grep -q '^install ok installed' || missing+=("$package")
    done
    [ ${#missing[@]} = 0 ] && return 0
    echo "Installing with apt$([ "$(id -u)" = 0 ] || echo ' (through sudo)'): ${missing[*]}"
    as_root apt-get update -q &&
        as_root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends "${missing[@]}"
}

# configure_in DIR OPTION... - makes DIR ready for make; needs $root, the folder of the sources.
configure_in() {
    local dir=$1
    shift
    [ -x "$root/configure" ] || (cd "$root" && autoreconf -fi) || return 1
    mkdir -p "$dir" || return 1
    [ -f "$dir/config.status" ] && [ "$dir/config.status" -nt "$root/configure" ] && return 0
    (cd "$dir" && "$root/configure" -q "$@")
}
