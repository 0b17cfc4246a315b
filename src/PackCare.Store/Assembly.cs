// Code for each mapped statement is generated when the project is built, so that the program can be compiled ahead as a whole.
[module: Dapper.DapperAot]
