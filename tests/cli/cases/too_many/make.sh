{ echo name,upstream,downstream
  i=0
  while [ $i -lt 256 ]; do echo "q$i,103,101"; i=$((i + 1)); done; } > floods.csv
