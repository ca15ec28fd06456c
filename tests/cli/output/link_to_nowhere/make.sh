#!/bin/sh
ln -s none link
