#!/bin/sh
ln -s input.yaml link.yaml
ln input.yaml other_name.yaml
