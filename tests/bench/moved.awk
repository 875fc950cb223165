# moved.awk - which figures of a table differ from those of the kept one: awk -F '\t' -f moved.awk KEPT NEW
FNR == 1 && NR == 1 { for (i = 1; i <= NF; i++) name[i] = $i; next }
FNR == NR { for (i = 2; i <= NF; i++) kept[$1, i] = $i; next }
FNR == 1 { next }
{
    said = ""
    for (i = 2; i <= NF; i++)
        if (!(($1, i) in kept))
            said = said "  " name[i] " is new"
        else if (kept[$1, i] != $i)
            said = said "  " name[i] " " kept[$1, i] " -> " $i
    if (said != "") {
        print $1 ":" said
        moved++
    }
}
END { if (!moved) print "nothing moved" }
