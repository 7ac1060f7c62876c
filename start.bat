@echo off
rem Start mosaickit by a double click on Windows: JupyterLab on the first notebook.
cd /d "%~dp0"
set python=
py -3 -c "import sys; sys.exit(sys.version_info < (3, 11))" >nul 2>nul && set python=py -3
if not defined python python -c "import sys; sys.exit(sys.version_info < (3, 11))" >nul 2>nul && set python=python
if not defined python goto missing
%python% start.py %*
if errorlevel 1 goto failed
exit /b 0
:missing
echo mosaickit needs Python 3.11 or newer, and none was found here. Install it from python.org, then start again.
:failed
pause
exit /b 1
