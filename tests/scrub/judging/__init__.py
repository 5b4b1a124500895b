from mmbuilder.beside import one_thread_each

one_thread_each()  # before numpy is loaded, as the program does: other work on the machine would stall both threads
