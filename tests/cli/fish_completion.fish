# What fish itself offers with the script: fish fish_completion.fish PROGRAM
$argv[1] completion fish | source; or exit 1
function expect
    set -l found (complete -C $argv[1] | string split -f1 \t | sort | string join ' ')
    test "$found" = "$argv[2]"; or begin
        echo "$argv[1]: expected '$argv[2]', got '$found'"
        exit 1
    end
end
expect 'patchwright day' daysheet
expect 'patchwright calc wa' watertest
expect 'patchwright calc bend --rad' --radius
expect 'patchwright draw job.json -f p' 'pdf png'
