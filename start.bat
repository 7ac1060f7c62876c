@echo off
rem Start mosaickit by a double click on Windows: JupyterLab on the first notebook.
setlocal enableextensions disabledelayedexpansion
rem cd cannot go to a folder of a network; pushd gives it the letter of a drive, and popd takes that back
pushd "%~dp0" || goto nowhere
set "python="
py -3 -c "import sys; sys.exit(sys.version_info < (3, 11))" >nul 2>nul && set "python=py -3"
if not defined python python -c "import sys; sys.exit(sys.version_info < (3, 11))" >nul 2>nul && set "python=python"
if not defined python goto missing
rem not "if errorlevel 1", which is true of 1 and more: what Windows stops ends with a number below 0
%python% start.py %* || goto failed
popd
exit /b 0
:missing
echo mosaickit needs Python 3.11 or newer, and none was found here. Install it from python.org, then start again.
:failed
popd
pause
exit /b 1
:nowhere
echo This folder cannot be opened from here. Copy it to a disk of this computer, then start again.
pause
exit /b 1
